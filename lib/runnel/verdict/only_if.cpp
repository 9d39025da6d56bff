// The conditions of an answer: under what it delivers, each told once.
#include <algorithm>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "runnel/verdict/bearing.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/store_rules.h"

namespace runnel::verdict {
namespace {

constexpr std::size_t most_in_a_condition = 3;  // one that names more places is a table

/// The lines of which only the length is known.
Sentence unsurveyed(const std::vector<const Finding*>& conditions) {
  Sentence s;
  std::size_t count = 0;
  for (const Finding* f : conditions) {
    if (f->code != "line-not-surveyed") continue;
    if (++count == 1) s.name(f->where.pipeline);
  }
  if (count == 2) s.say(" and one more line of which only the length is known lie");
  if (count > 2)
    s.say(" and " + std::to_string(count - 1) + " more lines of which only the length is known lie");
  return count == 1 ? s.say(", of which only the length is known, lies") : s;
}

/// A clause about the lines or places of those findings that have one of the codes.
Sentence named_in(const std::vector<const Finding*>& conditions, const std::vector<std::string_view>& codes,
                  const char* clause) {
  std::vector<std::string> names;
  std::unordered_set<std::string_view> seen;
  for (const Finding* f : conditions) {
    if (std::find(codes.begin(), codes.end(), f->code) == codes.end()) continue;
    const std::string& name = f->where.pipeline.empty() ? f->where.place : f->where.pipeline;
    if (seen.insert(name).second) names.push_back(name);
  }
  return Sentence().say(clause).names(names);
}

/// Whether a condition speaks of nothing but what is not known of pipe, cold, survey and yield.
bool of_a_corner(const std::string& condition) { return conditions_once({condition}) == condition; }

/// Conditions in the order in which they are told, each once.
class Conditions {
 public:
  explicit Conditions(const std::vector<const Finding*>& findings) : findings_(findings) {}

  bool has(const std::vector<std::string_view>& codes) const {
    return std::any_of(findings_.begin(), findings_.end(), [&](const Finding* f) {
      return std::find(codes.begin(), codes.end(), f->code) != codes.end();
    });
  }
  void add(const Sentence& condition) {
    const bool known =
        std::any_of(all_.begin(), all_.end(), [&](const Sentence& one) { return same(one, condition); });
    if (!known) all_.push_back(condition);
  }
  /// A clause about the lines or places of the findings with one of these codes, if there are any.
  void add_named(const std::vector<std::string_view>& codes, const char* clause, const char* end = "") {
    if (has(codes)) add(named_in(findings_, codes, clause).say(end));
  }
  /// Those of a corner stand where the first of them does, each once.
  Sentence told() const {
    std::vector<std::string> corners;
    for (const Sentence& one : all_)
      if (of_a_corner(one.text())) corners.push_back(one.text());
    Sentence s;
    for (const Sentence& one : all_) {
      const bool corner = of_a_corner(one.text());
      if (corner && corners.empty()) continue;
      s.say(s.empty() ? "" : " and ");
      if (!corner) {
        s.append(one);
      } else {
        s.say(conditions_once(corners));
        corners.clear();
      }
    }
    return s;
  }

 private:
  const std::vector<const Finding*>& findings_;
  std::vector<Sentence> all_;
};

/// The unknowns on which the needs depend, each once.
Sentence corner_condition(const FlowVerdict& verdict) {
  std::vector<std::string> all;
  for (const AskResult& r : verdict.asks)
    if (!r.only_if.empty()) all.push_back(r.only_if);
  return Sentence().say(conditions_once(all));
}

}  // namespace

Sentence condition_of(const FlowVerdict& verdict) {
  if (verdict.ruling != Ruling::only_if) return {};
  const std::vector<const Finding*> findings = bearing_on(verdict, Ruling::only_if);
  Conditions all(findings);
  if (all.has({"siphon-needs-filling"})) all.add(Sentence().say("if it is filled by hand before it runs"));
  if (all.has({"line-not-surveyed"}))
    all.add(Sentence().say("if ").append(unsurveyed(findings)).say(" without a high point"));
  all.add_named({"survey-and-tape-differ", "deeper-than-built", "ends-do-not-meet"},
                "if the doubtful measures of ", " are right");
  if (all.has({"level-book-does-not-close"}))
    all.add(Sentence().say("if the level book is right, which does not close"));
  all.add_named({"only-ends-surveyed"}, "if no high point lies between the surveyed ends of ");
  all.add_named({"rating-if-survey-right", "survey-leaves-no-margin"}, "if the survey is right along ");
  all.add_named({"pipe-better-than-any"}, "if the pipe of ", " is as good as it is written");
  if (all.has({"water-unlike-water"}))
    all.add(Sentence().say("if the water is what the model says it is, unlike other water"));
  all.add_named({"mouths-share-water"}, "if the mouths in ", " lie as written, to the centimetre");
  all.add_named({"overflow-if-more"}, "if no more runs to ", " than the bucket tests say on average");
  all.add_named({"surge-above-rating"}, "if nothing snaps shut on ");
  all.add_named({"reducing-valve-fails-open"}, "as long as no reducing valve before ", " fails open");
  all.add_named({"never-to-be-shut"}, "if nothing ever shuts the end of ");
  all.add_named({"taps-never-open"}, "as long as nobody opens ");
  if (all.has({"runs-only-so-long"}))
    all.add(Sentence().say("as long as ").name(verdict.lasting->stores.front().tank).say(" lasts"));
  if (all.has({"need-met-only-if"})) all.add(corner_condition(verdict));
  for (const Sentence& dry : verdict.dry_conditions) all.add(dry);
  const auto once = [](const Sentence& dry) { return dry.text().starts_with("once "); };
  if (std::none_of(verdict.dry_conditions.begin(), verdict.dry_conditions.end(), once))
    all.add_named({"empty-taken-settled"}, "once water stands in ");
  return all.told();
}

}  // namespace runnel::verdict
