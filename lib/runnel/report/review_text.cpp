// A review in words: its summary, and everything behind it.
#include <algorithm>

#include "runnel/report/render_text.h"
#include "runnel/report/review.h"
#include "runnel/report/review_parts.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {

namespace {

using review::Review;
using review::Verdict;

Document cautions(const Review& review) {
  return Document().section().paragraph(
      "Judged by the rules for " + review.rules.name +
      ". Local codes and a licensed engineer have the last word; soil, slides and the"
      " quality of the water were not looked at.");
}

/// The rulings of one rule at all its places.
Document one_rule(const Review& review, const review::Rule& rule, const TextOptions& options) {
  Document out;
  for (const review::Ruling& ruling : review.rulings) {
    if (ruling.rule != rule.id) continue;
    if (out.empty())
      out.section()
          .add(Prose{.manner = Manner::line, .text = ": " + rule.text, .lead = rule.id})
          .paragraph(source_words(rule) + (rule.weight == review::Weight::advice ? " (advice)" : "") +
                         (rule.changed.empty() ? "" : "; " + rule.changed),
                     1);
    out.line(ruling_words(ruling, options, false), 2);
  }
  return out;
}

}  // namespace

std::string_view verdict_word(review::Verdict verdict) {
  switch (verdict) {
    case Verdict::holds:
      return "holds";
    case Verdict::fails:
      return "fails";
    case Verdict::undecided:
      return "undecided";
    case Verdict::cannot_be_judged:
      break;
  }
  return "cannot be judged";
}

Document review_document(const ReviewAnswer& answer, const TextOptions& options) {
  constexpr int lines_of_cautions = 2;
  Document out = summary(answer, lines_of_cautions, options);
  if (!answer.review.settled) return out;
  if (options.every_point) {
    out.append(findings_sections(answer.review.told, options)).section("Every rule");
    for (const review::Rule& rule : answer.review.rules.rules)
      out.append(one_rule(answer.review, rule, options));
    out.append(works_section(answer.review, options));
    out.append(service_section(answer.review, options));
    out.append(maintenance_section(answer.review));
  }
  return out.append(cautions(answer.review));
}

std::string review_text(const ReviewAnswer& answer, const TextOptions& options) {
  return render_text(review_document(answer, options), options);
}

}  // namespace runnel::report
