// A review in words: its summary, and everything behind it.
#include <algorithm>

#include "runnel/report/harmless.h"
#include "runnel/report/review.h"
#include "runnel/report/review_parts.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {

namespace {

using review::Review;
using review::Verdict;

std::string cautions(const Review& review, const TextOptions& options) {
  return "\n" + paragraph("Judged by the rules for " + review.rules.name +
                              ". Local codes and a licensed engineer have the last word; soil, slides and the"
                              " quality of the water were not looked at.",
                          0, 0, options.width);
}

std::string every_rule(const Review& review, const TextOptions& options) {
  std::string out;
  for (const review::Rule& rule : review.rules.rules) {
    bool headed = false;
    for (const review::Ruling& ruling : review.rulings) {
      if (ruling.rule != rule.id) continue;
      if (!headed) {
        out += "\n" + paragraph(Paint{options.colour}.bold(rule.id) + ": " + rule.text, 0, 2, options.width);
        out += paragraph(source_words(rule) + (rule.weight == review::Weight::advice ? " (advice)" : "") +
                             (rule.changed.empty() ? "" : "; " + harmless(rule.changed)),
                         2, 2, options.width);
      }
      headed = true;
      out += paragraph(ruling_words(ruling, options, false), 4, 6, options.width);
    }
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

std::string review_text(const ReviewAnswer& answer, const TextOptions& wanted) {
  TextOptions options = wanted;
  options.width = std::max(60, options.width);
  constexpr int lines_of_cautions = 2;
  std::string out = summary_text(answer, lines_of_cautions, options);
  if (!answer.review.settled) return out;
  if (options.every_point) {
    out += findings_text(answer.review.told, options);
    out += heading("Every rule", options) + every_rule(answer.review, options);
    out += works_text(answer.review, options);
    out += service_text(answer.review, options);
    out += maintenance_text(answer.review, options);
  }
  return out + cautions(answer.review, options);
}

}  // namespace runnel::report
