// The summary of a review, and the whole of it.
#include <algorithm>
#include <map>
#include <set>

#include "runnel/report/harmless.h"
#include "runnel/report/review.h"
#include "runnel/report/review_parts.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {

namespace {

using review::JudgedClaim;
using review::Review;
using review::Verdict;

// So many faults and claims a summary names before it counts the rest, so that it stays within 20 lines.
constexpr std::size_t most_faults = 4, most_claims = 2;

/// The worst ruling of each rule that has any, rules in order and then those of the works.
std::vector<review::Ruling> worst_of_all(const Review& review) {
  const std::vector<review::Ruling> all = review::all_rulings(review);
  std::vector<review::Ruling> worst;
  std::set<std::string> seen;
  for (const review::Ruling& ruling : all)
    if (seen.insert(ruling.rule).second) worst.push_back(*review::worst_of_rule(all, ruling.rule));
  return worst;
}

std::size_t count_of(const std::vector<review::Ruling>& worst, Verdict verdict, review::Weight weight) {
  return static_cast<std::size_t>(std::count_if(
      worst.begin(), worst.end(),
      [&](const review::Ruling& ruling) { return ruling.verdict == verdict && ruling.weight == weight; }));
}

std::string plural(std::size_t n, const std::string& one, const std::string& many) {
  return std::to_string(n) + " " + (n == 1 ? one : many);
}

std::string first_sentence(const ReviewAnswer& answer) {
  const Review& review = answer.review;
  if (!review.settled) return "No answer was reached, so nothing can be reviewed.";
  constexpr auto must = review::Weight::must;
  const std::vector<review::Ruling> worst = worst_of_all(review);
  const std::size_t failed = count_of(worst, Verdict::fails, must);
  const auto claims = static_cast<std::size_t>(
      std::count_if(review.claims.begin(), review.claims.end(),
                    [](const JudgedClaim& c) { return c.verdict == Verdict::fails; }));
  const auto errors =
      static_cast<std::size_t>(std::count_if(review.told.begin(), review.told.end(),
                                             [](const Finding& f) { return f.severity == Severity::error; }));
  const auto settings = static_cast<std::size_t>(
      std::count_if(review.settings.begin(), review.settings.end(),
                    [](const review::SettingOutcome& outcome) { return !outcome.good(); }));
  const std::size_t open =
      count_of(worst, Verdict::undecided, must) + count_of(worst, Verdict::cannot_be_judged, must);
  std::string said = review.good ? "Nothing that can be judged fails" : "This proposal does not hold: ";
  if (!review.good) {
    std::vector<std::string> parts;
    if (failed > 0) parts.push_back(plural(failed, "rule fails", "rules fail"));
    if (claims > 0) parts.push_back(plural(claims, "claim is wrong", "claims are wrong"));
    if (errors > 0) parts.push_back(plural(errors, "other thing is wrong", "other things are wrong"));
    if (settings > 0) parts.push_back(plural(settings, "setting fails", "settings fail"));
    for (std::size_t i = 0; i < parts.size(); ++i) said += (i == 0 ? "" : ", ") + parts[i];
  }
  if (open > 0) said += "; " + plural(open, "rule is", "rules are") + " open";
  return said + ".";
}

std::string faults_text(const Review& review, const TextOptions& options) {
  std::vector<std::string> lines;
  for (const review::Ruling& worst : worst_of_all(review))
    if (review::fails(worst)) lines.push_back(ruling_words(worst, options) + others_words(review, worst));
  for (const Finding& f : review.told)
    if (f.severity == Severity::error)
      lines.push_back(harmless(units::render(f.message, f.figures, options.units)));
  if (lines.empty()) return {};
  std::string out = heading("What fails", options);
  const std::size_t named = options.every_point ? lines.size() : std::min(lines.size(), most_faults);
  for (std::size_t i = 0; i < named; ++i) out += paragraph("- " + lines[i], 2, 4, options.width);
  if (lines.size() > named)
    out += paragraph("and " + std::to_string(lines.size() - named) + " more: add -v.", 2, 4, options.width);
  return out;
}

/// Those that are wrong or open, and how many hold; under -v all of them.
std::string claims_text(const Review& review, const TextOptions& options) {
  if (review.claims.empty()) return {};
  std::string out = heading("What it claims", options);
  std::size_t shown = 0, held = 0, more = 0;
  for (const JudgedClaim& claim : review.claims) {
    const bool holds = claim.verdict == Verdict::holds;
    if (!options.every_point && (holds || shown == most_claims)) {
      ++(holds ? held : more);
      continue;
    }
    ++shown;
    out += paragraph("- " + claim_words(claim, options), 2, 4, options.width);
  }
  std::string rest;
  if (more > 0) rest = std::to_string(more) + " more do not hold (-v). ";
  if (held > 0) rest += plural(held, "claim holds", "claims hold") + ".";
  return rest.empty() ? out : out + paragraph("- " + rest, 2, 4, options.width);
}

/// What would have to be known, each thing once.
std::string missing_text(const Review& review, const TextOptions& options) {
  std::vector<std::string> missing;
  for (const review::Ruling& ruling : review::all_rulings(review))
    if (!ruling.missing.empty() && std::find(missing.begin(), missing.end(), ruling.missing) == missing.end())
      missing.push_back(ruling.missing);
  if (missing.empty()) return {};
  constexpr std::size_t most_named = 3;
  std::string said = "To judge more, ask for ";
  const std::size_t shown = options.every_point ? missing.size() : std::min(missing.size(), most_named);
  for (std::size_t i = 0; i < shown; ++i) said += (i == 0 ? "" : "; ") + missing[i];
  if (shown < missing.size())
    said += "; and " + plural(missing.size() - shown, "thing", "things") + " more (-v)";
  return "\n" + paragraph(harmless(said) + ".", 0, 0, options.width);
}

std::string advice_line(const Review& review, const TextOptions& options) {
  std::string said;
  for (const review::Ruling& worst : worst_of_all(review))
    if (worst.weight == review::Weight::advice && worst.verdict == Verdict::fails)
      said += (said.empty() ? "" : ", ") + worst.rule;
  if (said.empty()) return {};
  return paragraph("It falls short of advice on " + said + " (-v).", 0, 0, options.width);
}

/// How the other settings fare.
std::string settings_text(const Review& review, const TextOptions& options) {
  if (review.settings.empty()) return {};
  std::string said;
  for (const review::SettingOutcome& outcome : review.settings) {
    said += (said.empty() ? "" : "; ") + harmless(outcome.setting);
    if (outcome.good()) said += " holds";
    if (!outcome.settled) said += " gives no answer";
    for (const std::string& rule : outcome.failing)
      said += (rule == outcome.failing.front() ? " fails " : ", ") + rule;
  }
  return "\n" + paragraph("Settings: " + said + ".", 0, 0, options.width);
}

/// How many parts no valve parts from the water.
std::string service_line(const Review& review, const TextOptions& options) {
  const auto held = std::count_if(review.service.items.begin(), review.service.items.end(),
                                  [](const review::ServiceItem& item) { return !item.possible; });
  if (held == 0) return {};
  return paragraph(plural(static_cast<std::size_t>(held), "part", "parts") +
                       " cannot be taken out without emptying a tank or a box first (-v).",
                   0, 0, options.width);
}

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
  const Paint paint{options.colour};
  const std::string sentence = paragraph(first_sentence(answer), 0, 0, options.width);
  std::string out = answer.review.good ? paint.good(sentence) : paint.bad(sentence);
  std::string about = answer.system.name().empty() ? "This model" : harmless(answer.system.name());
  about += answer.setting == "normal" ? ", as drawn." : ", setting \"" + harmless(answer.setting) + "\".";
  out += paragraph(about, 0, 0, options.width);
  if (!answer.review.settled) return out;
  out += faults_text(answer.review, options);
  out += claims_text(answer.review, options);
  out += settings_text(answer.review, options);
  out += missing_text(answer.review, options);
  out += advice_line(answer.review, options);
  out += service_line(answer.review, options);
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
