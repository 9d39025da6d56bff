// What a lay owner reads of a review: at most 20 lines, the worst first.
#include <algorithm>
#include <set>

#include "runnel/report/render_text.h"
#include "runnel/report/review.h"
#include "runnel/report/review_parts.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {

namespace {

using review::JudgedClaim;
using review::Review;
using review::Verdict;

/// How many of each are named; the rest are only counted.
struct Room {
  std::size_t faults, claims, told, asked, settings, relaxed;
};

// From what fits most reviews down to what fits any; a reader who wants more adds -v.
constexpr Room rooms[] = {{4, 2, 2, 3, 4, 2}, {4, 1, 1, 3, 3, 1}, {3, 1, 1, 2, 2, 1}, {2, 1, 1, 1, 1, 1}};
constexpr Room all_of_it{100000, 100000, 0, 100000, 100000, 100000};  // -v gives what is told its own section
constexpr int most_lines_of_all = 20;

/// The worst ruling of each rule that has any: the rules in order, then those of the works.
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

/// The first items as a list, and how many more there are.
Document some_items(const std::string& title, const std::vector<std::string>& items, std::size_t most) {
  Document out;
  out.section(title);
  for (std::size_t i = 0; i < std::min(items.size(), most); ++i) out.item(items[i]);
  if (items.size() > most) out.line("and " + numbered_rest(items, most) + " more: add -v.");
  return out;
}

/// The same in one sentence.
std::string some_words(const std::vector<std::string>& words, std::size_t most) {
  std::string out;
  for (std::size_t i = 0; i < std::min(words.size(), most); ++i) out += (i == 0 ? "" : "; ") + words[i];
  if (words.size() > most) out += "; and " + numbered_rest(words, most) + " more (-v)";
  return out;
}

Document faults(const Review& review, std::size_t most, const TextOptions& options) {
  std::vector<std::string> items;
  for (const review::Ruling& worst : worst_of_all(review))
    if (review::fails(worst)) items.push_back(ruling_words(worst, options) + others_words(review, worst));
  for (const Finding& f : review.told)
    if (f.severity == Severity::error) items.push_back(units::render(f.message, f.figures, options.units));
  return items.empty() ? Document() : some_items("What fails", items, most);
}

/// Claims that are wrong, open or do not hold under every setting, and how many hold; with -v, all claims.
Document claims(const Review& review, std::size_t most, const TextOptions& options) {
  if (review.claims.empty()) return {};
  Document out;
  out.section("What it claims");
  std::size_t shown = 0, held = 0, more = 0;
  for (const JudgedClaim& claim : review.claims) {
    const bool holds = claim.verdict == Verdict::holds && !(claim.worst && claim.worst->broken);
    if (!options.every_point && (holds || shown == most)) {
      ++(holds ? held : more);
      continue;
    }
    ++shown;
    out.item(claim_words(claim, options));
  }
  std::string rest;
  if (more > 0) rest = std::to_string(more) + " more do not hold, or not under every setting (-v). ";
  if (held > 0)
    rest += plural(held, shown > 0 ? "more claim holds" : "claim holds",
                   shown > 0 ? "more claims hold" : "claims hold") +
            ".";
  return rest.empty() ? out : out.item(rest);
}

/// What would have to be known, each thing once.
Document missing_line(const Review& review, std::size_t most) {
  std::vector<std::string> missing;
  for (const review::Ruling& ruling : review::all_rulings(review))
    if (!ruling.missing.empty() && std::find(missing.begin(), missing.end(), ruling.missing) == missing.end())
      missing.push_back(ruling.missing);
  if (missing.empty()) return {};
  return Document().section().paragraph("To judge more, ask for " + some_words(missing, most) + ".");
}

/// What the proposal leaves out, and what else keeps it from a yes.
Document left_out(const Review& review, std::size_t most, const TextOptions& options) {
  std::vector<std::string> items;
  for (const Finding& f : review.told)
    if (f.severity == Severity::warning) items.push_back(units::render(f.message, f.figures, options.units));
  return items.empty() || most == 0 ? Document() : some_items("What is left out", items, most);
}

Document advice_line(const Review& review) {
  std::string said;
  for (const review::Ruling& worst : worst_of_all(review))
    if (worst.weight == review::Weight::advice && worst.verdict == Verdict::fails)
      said += (said.empty() ? "" : ", ") + worst.rule;
  if (said.empty()) return {};
  return Document().paragraph("It falls short of advice on " + said + " (-v).");
}

/// How the other settings fare, failing ones first.
Document settings_line(const Review& review, std::size_t most) {
  std::vector<std::string> bad, good;
  for (const review::SettingOutcome& outcome : review.settings) {
    if (&outcome == &review.settings.front()) continue;
    std::string said = outcome.setting;
    if (!outcome.settled) said += " gives no answer";
    for (const std::string& rule : outcome.failing)
      said += (rule == outcome.failing.front() ? " fails " : ", ") + rule;
    (outcome.good() ? good : bad).push_back(outcome.good() ? said + " holds" : said);
  }
  bad.insert(bad.end(), good.begin(), good.end());
  if (bad.empty()) return {};
  return Document().section().paragraph("Settings: " + some_words(bad, most) + ".");
}

/// What the reader's own rules let pass.
Document relaxed_line(const Review& review, std::size_t most) {
  std::vector<std::string> passed;
  for (const review::LeftOut& rule : review.rules.left_out)
    passed.push_back(rule.id + " left out (" + rule.reason + ")");
  for (const review::Rule& rule : review.rules.rules)
    if (rule.changed.starts_with("relaxed")) passed.push_back(rule.id + " " + rule.changed);
  if (passed.empty()) return {};
  return Document().paragraph("Your own rules let pass: " + some_words(passed, most) + ".");
}

/// How many parts no valve shuts off from the water.
Document service_line(const Review& review) {
  const auto held = std::count_if(review.service.items.begin(), review.service.items.end(),
                                  [](const review::ServiceItem& item) { return !item.possible; });
  if (held == 0) return {};
  return Document().paragraph(plural(static_cast<std::size_t>(held), "part", "parts") +
                              " cannot be taken out without emptying a tank or a box first (-v).");
}

std::string about(const ReviewAnswer& answer) {
  std::string said = answer.drawn.name.empty() ? "This model" : answer.drawn.name;
  if (answer.setting != verdict::as_drawn)
    said += ", " + setting_words(answer.setting) + ".";
  else
    said += answer.review.settings.size() > 1 ? ", as drawn and under every setting." : ", as drawn.";
  return said;
}

Document body(const ReviewAnswer& answer, const Room& room, const TextOptions& options) {
  const Review& review = answer.review;
  return faults(review, room.faults, options) + claims(review, room.claims, options) +
         left_out(review, room.told, options) + settings_line(review, room.settings) +
         missing_line(review, room.asked) + advice_line(review) + relaxed_line(review, room.relaxed) +
         service_line(review);
}

/// Lines that are not blank: all but the one before each section.
int lines_with_words(const Document& document, const TextOptions& options) {
  return lines_of(document, options) - (static_cast<int>(document.sections().size()) - 1);
}

}  // namespace

Document summary(const ReviewAnswer& answer, int lines_after, const TextOptions& options) {
  Document head;
  head.statement(first_sentence(answer), answer.review.good);
  head.paragraph(about(answer));
  if (!answer.review.settled) return head;
  if (options.every_point) return head + body(answer, all_of_it, options);
  Document out;
  for (const Room& room : rooms) {
    out = head + body(answer, room, options);
    if (lines_with_words(out, options) + lines_after <= most_lines_of_all) break;
  }
  return out;
}

}  // namespace runnel::report
