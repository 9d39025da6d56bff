// What a lay owner reads of a review: at most 20 lines, the worst first.
#include <algorithm>
#include <set>

#include "runnel/report/harmless.h"
#include "runnel/report/review.h"
#include "runnel/report/review_parts.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {

namespace {

using review::JudgedClaim;
using review::Review;
using review::Verdict;

/// How many of each are named before the rest is counted.
struct Room {
  std::size_t faults, claims, told, asked, settings, relaxed;
};

// From what fits most reviews down to what fits any; a reader who wants more adds -v.
constexpr Room rooms[] = {{4, 2, 2, 3, 4, 2}, {4, 1, 1, 3, 3, 1}, {3, 1, 1, 2, 2, 1}, {2, 1, 1, 1, 1, 1}};
constexpr Room all_of_it{100000, 100000, 0, 100000, 100000, 100000};  // -v lists what is told by itself
constexpr int most_lines = 20;

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
                    [](const review::SettingOutcome& outcome) { return !outcome.settled; }));
  const std::size_t open =
      count_of(worst, Verdict::undecided, must) + count_of(worst, Verdict::cannot_be_judged, must);
  const bool undecided = !review.fails && settings == 0 && !review.open.empty();
  std::string said = review.good ? "Nothing that can be judged fails"
                     : undecided ? "It cannot be said whether this proposal holds"
                                 : "This proposal does not hold: ";
  if (!review.good && !undecided) {
    std::vector<std::string> parts;
    if (failed > 0) parts.push_back(plural(failed, "rule fails", "rules fail"));
    if (claims > 0) parts.push_back(plural(claims, "claim is wrong", "claims are wrong"));
    if (errors > 0) parts.push_back(plural(errors, "other thing is wrong", "other things are wrong"));
    if (settings > 0) parts.push_back(plural(settings, "setting gives no answer", "settings give no answer"));
    for (std::size_t i = 0; i < parts.size(); ++i) said += (i == 0 ? "" : ", ") + parts[i];
  }
  if (open > 0) said += "; " + plural(open, "rule is", "rules are") + " open";
  const auto left_out =
      static_cast<std::size_t>(std::count_if(review.told.begin(), review.told.end(), [](const Finding& f) {
        return f.severity == Severity::warning;
      }));
  if (left_out > 0) said += "; " + plural(left_out, "thing is", "things are") + " left out";
  return said + ".";
}

std::string numbered_rest(const std::vector<std::string>& all, std::size_t most) {
  return std::to_string(all.size() - most);
}

/// The first of them as a list, and how many more there are.
std::string some_lines(const std::vector<std::string>& lines, std::size_t most, const TextOptions& options) {
  std::string out;
  for (std::size_t i = 0; i < std::min(lines.size(), most); ++i)
    out += paragraph("- " + lines[i], 2, 4, options.width);
  if (lines.size() > most)
    out += paragraph("and " + numbered_rest(lines, most) + " more: add -v.", 2, 4, options.width);
  return out;
}

/// The same in one sentence.
std::string some_words(const std::vector<std::string>& words, std::size_t most) {
  std::string out;
  for (std::size_t i = 0; i < std::min(words.size(), most); ++i) out += (i == 0 ? "" : "; ") + words[i];
  if (words.size() > most) out += "; and " + numbered_rest(words, most) + " more (-v)";
  return out;
}

std::string faults_text(const Review& review, std::size_t most, const TextOptions& options) {
  std::vector<std::string> lines;
  for (const review::Ruling& worst : worst_of_all(review))
    if (review::fails(worst)) lines.push_back(ruling_words(worst, options) + others_words(review, worst));
  for (const Finding& f : review.told)
    if (f.severity == Severity::error)
      lines.push_back(harmless(units::render(f.message, f.figures, options.units)));
  return lines.empty() ? "" : heading("What fails", options) + some_lines(lines, most, options);
}

/// Those that are wrong or open or do not hold under every setting, and how many hold; under -v all of them.
std::string claims_text(const Review& review, std::size_t most, const TextOptions& options) {
  if (review.claims.empty()) return {};
  std::string out = heading("What it claims", options);
  std::size_t shown = 0, held = 0, more = 0;
  for (const JudgedClaim& claim : review.claims) {
    const bool holds = claim.verdict == Verdict::holds && !(claim.worst && claim.worst->broken);
    if (!options.every_point && (holds || shown == most)) {
      ++(holds ? held : more);
      continue;
    }
    ++shown;
    out += paragraph("- " + claim_words(claim, options), 2, 4, options.width);
  }
  std::string rest;
  if (more > 0) rest = std::to_string(more) + " more do not hold, or not under every setting (-v). ";
  if (held > 0)
    rest += plural(held, shown > 0 ? "more claim holds" : "claim holds",
                   shown > 0 ? "more claims hold" : "claims hold") +
            ".";
  return rest.empty() ? out : out + paragraph("- " + rest, 2, 4, options.width);
}

/// What would have to be known, each thing once.
std::string missing_text(const Review& review, std::size_t most, const TextOptions& options) {
  std::vector<std::string> missing;
  for (const review::Ruling& ruling : review::all_rulings(review))
    if (!ruling.missing.empty() && std::find(missing.begin(), missing.end(), ruling.missing) == missing.end())
      missing.push_back(ruling.missing);
  if (missing.empty()) return {};
  return "\n" + paragraph(harmless("To judge more, ask for " + some_words(missing, most)) + ".", 0, 0,
                          options.width);
}

/// What the proposal leaves out, and what else keeps it from a yes.
std::string left_out_text(const Review& review, std::size_t most, const TextOptions& options) {
  std::vector<std::string> lines;
  for (const Finding& f : review.told)
    if (f.severity == Severity::warning)
      lines.push_back(harmless(units::render(f.message, f.figures, options.units)));
  return lines.empty() || most == 0 ? ""
                                    : heading("What is left out", options) + some_lines(lines, most, options);
}

std::string advice_line(const Review& review, const TextOptions& options) {
  std::string said;
  for (const review::Ruling& worst : worst_of_all(review))
    if (worst.weight == review::Weight::advice && worst.verdict == Verdict::fails)
      said += (said.empty() ? "" : ", ") + worst.rule;
  if (said.empty()) return {};
  return paragraph("It falls short of advice on " + said + " (-v).", 0, 0, options.width);
}

/// How the other settings fare, those that fail first.
std::string settings_text(const Review& review, std::size_t most, const TextOptions& options) {
  std::vector<std::string> bad, good;
  for (const review::SettingOutcome& outcome : review.settings) {
    if (&outcome == &review.settings.front()) continue;
    std::string said = harmless(outcome.setting);
    if (!outcome.settled) said += " gives no answer";
    for (const std::string& rule : outcome.failing)
      said += (rule == outcome.failing.front() ? " fails " : ", ") + rule;
    (outcome.good() ? good : bad).push_back(outcome.good() ? said + " holds" : said);
  }
  bad.insert(bad.end(), good.begin(), good.end());
  return bad.empty() ? "" : "\n" + paragraph("Settings: " + some_words(bad, most) + ".", 0, 0, options.width);
}

/// What the reader's own file lets pass.
std::string relaxed_text(const Review& review, std::size_t most, const TextOptions& options) {
  std::vector<std::string> passed;
  for (const review::LeftOut& rule : review.rules.left_out)
    passed.push_back(rule.id + " left out (" + harmless(rule.reason) + ")");
  for (const review::Rule& rule : review.rules.rules)
    if (rule.changed.starts_with("relaxed")) passed.push_back(rule.id + " " + harmless(rule.changed));
  if (passed.empty()) return {};
  return paragraph("Your own rules let pass: " + some_words(passed, most) + ".", 0, 0, options.width);
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

std::string about(const ReviewAnswer& answer, const TextOptions& options) {
  std::string said = answer.drawn.name.empty() ? "This model" : harmless(answer.drawn.name);
  if (answer.setting != verdict::as_drawn)
    said += ", " + setting_words(answer.setting) + ".";
  else
    said += answer.review.settings.size() > 1 ? ", as drawn and under every setting." : ", as drawn.";
  return paragraph(said, 0, 0, options.width);
}

std::string body(const ReviewAnswer& answer, const Room& room, const TextOptions& options) {
  const Review& review = answer.review;
  return faults_text(review, room.faults, options) + claims_text(review, room.claims, options) +
         left_out_text(review, room.told, options) + settings_text(review, room.settings, options) +
         missing_text(review, room.asked, options) + advice_line(review, options) +
         relaxed_text(review, room.relaxed, options) + service_line(review, options);
}

/// Lines that are not empty.
int lines_of(const std::string& text) {
  int count = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    count += end > at;
    at = end + 1;
  }
  return count;
}

}  // namespace

std::string summary_text(const ReviewAnswer& answer, int lines_after, const TextOptions& options) {
  const Paint paint{options.colour};
  const std::string sentence = paragraph(first_sentence(answer), 0, 0, options.width);
  const std::string head =
      (answer.review.good ? paint.good(sentence) : paint.bad(sentence)) + about(answer, options);
  if (!answer.review.settled) return head;
  if (options.every_point) return head + body(answer, all_of_it, options);
  std::string out;
  for (const Room& room : rooms) {
    out = head + body(answer, room, options);
    if (lines_of(out) + lines_after <= most_lines) break;
  }
  return out;
}

}  // namespace runnel::report
