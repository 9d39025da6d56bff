#include "runnel/verdict/ruling.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace runnel::verdict {
namespace {

// Warnings that leave open what an owner has to know before he builds.
constexpr std::array<std::string_view, 7> leave_open = {
    "ask-not-judged",     "rating-unknown",   "air-not-judged",        "split-decides",
    "air-start-doubtful", "draws-not-judged", "split-decides-at-times"};
// Warnings that the owner can settle himself, or that only a walk along the line or time will settle.
constexpr std::array<std::string_view, 33> state_a_condition = {"siphon-needs-filling",
                                                                "only-ends-surveyed",
                                                                "line-not-surveyed",
                                                                "need-met-only-if",
                                                                "never-to-be-shut",
                                                                "taps-never-open",
                                                                "taps-by-turns",
                                                                "velocity-met-only-if",
                                                                "draws-met-only-if",
                                                                "draws-missed-at-first",
                                                                "rating-if-survey-right",
                                                                "taps-left-running",
                                                                "need-fails-at-logged-yield",
                                                                "yield-falls",
                                                                "runs-only-so-long",
                                                                "survey-and-tape-differ",
                                                                "deeper-than-built",
                                                                "ends-do-not-meet",
                                                                "air-shut-in-as-tank-rises",
                                                                "velocity-only-while-drawn",
                                                                "met-once-filled",
                                                                "survey-leaves-no-margin",
                                                                "pipe-better-than-any",
                                                                "empty-taken-settled",
                                                                "water-unlike-water",
                                                                "level-book-does-not-close",
                                                                "mouths-share-water",
                                                                "overflow-if-more",
                                                                "year-met-only-if",
                                                                "surge-above-rating",
                                                                "reducing-valve-fails-open",
                                                                "asked-more-than-drawn",
                                                                "less-with-one-float-shut"};

template <std::size_t n>
bool among(const std::array<std::string_view, n>& codes, const std::string& code) {
  return std::find(codes.begin(), codes.end(), code) != codes.end();
}

}  // namespace

Ruling bearing(const Finding& finding) {
  if (finding.code == "check-failed") return Ruling::unproved;
  if (finding.code == "no-answer") return Ruling::no_answer;
  if (finding.severity == Severity::error) return Ruling::fails;
  if (finding.severity == Severity::note) return Ruling::holds;
  if (among(leave_open, finding.code)) return Ruling::cannot_be_said;
  return among(state_a_condition, finding.code) ? Ruling::only_if : Ruling::holds;
}

Ruling ruling_of(const std::vector<Finding>& findings) {
  Ruling worst = Ruling::holds;
  for (const Finding& finding : findings) worst = std::max(worst, bearing(finding));
  return worst;
}

}  // namespace runnel::verdict
