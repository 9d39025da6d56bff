// Tees that do not run full, and mouths in one box that stand half open: how the water parts there hangs on
// centimetres, and what that leaves open.
#include <algorithm>
#include <set>
#include <string>

#include "runnel/base/capital.h"
#include "runnel/base/index.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/splits.h"

namespace runnel::verdict {
namespace {

constexpr Code split_undetermined_rule{
    "split-undetermined",
    "how the water parts at a high tee cannot be told",
    "A tee lies on a high point where the water runs at the air's pressure: which way it turns there is "
    "not settled by heads.",
    "One branch may take it all.",
    "Move the tee off the high point, or put a valve on each branch.",
    "physics: at atmospheric pressure the split is left open"};

constexpr Code split_decides_rule{
    "split-decides",
    "needs that depend on how the water parts at a high tee",
    "Below a tee that does not run full some need is met only if its branch gets its share. If the others "
    "carry "
    "all that they can, it does not.",
    "The flow shown is one of many that may come.",
    "Put a small box with a weir for each line there, or move the tee below the high point.",
    "physics: at atmospheric pressure the split is left open"};

constexpr Code split_decides_at_times_rule{
    "split-decides-at-times",
    "needs that depend on how the water parts at a tee that does not always run full",
    "As drawn the tee runs full. In another state, as in a dry month or once a tank is empty, it does not, "
    "and some need is met then only if its branch gets its share.",
    "What came to both all winter comes to one of them in the dry season.",
    "Put a small box with a weir for each line there, or move the tee below the high point.",
    "physics: at atmospheric pressure the split is left open"};

constexpr Code mouths_share_rule{
    "mouths-share-water",
    "needs that depend on how level the mouths in a box lie",
    "Two lines leave a box with less water than they can carry, so their mouths do not stand under water and "
    "each takes what runs over its edge. Some need is met only if its line gets its share.",
    "A mouth that lies a few centimetres higher than the other gets half as much, or nothing.",
    "Set the mouths level with the water in the box, or let each line begin behind a weir of its own.",
    "flow over the edge of a mouth, as at the inlet of a culvert [hds-5]; how far apart still counts: common "
    "practice, no source"};

/// Whether a velocity is asked for in one of some lines.
bool velocity_asked_in(const Case& c, const std::vector<int>& lines) {
  const auto& asks = c.system.model().velocity_asks;
  return std::any_of(lines.begin(), lines.end(), [&](int l) {
    return std::any_of(asks.begin(), asks.end(), [&](const auto& ask) {
      return ask.in.empty() || ask.in == c.system.lines()[at(l)].name;
    });
  });
}

/// Opens a sentence with the state that it speaks of, if that is not the one drawn.
void say_when(Sentence& s, const std::string& when) {
  if (when.empty()) return;
  s.say(with_capital(when) + " ");
}

Finding mouths_share(const std::string& box, const std::string& when) {
  Draft d(mouths_share_rule, Severity::warning);
  d.at_place(box);
  say_when(d.message, when);
  d.message.name(box).say(" has less water than the lines that leave it can carry: each gets what runs over");
  d.message.say(" the edge of its mouth, and a few centimetres decide.");
  d.advice.say("Set the mouths in ").name(box);
  d.advice.say(" with the water level in it, or let each line begin behind a weir of its own.");
  d.source("flow over the edge of a mouth [hds-5]");
  return d.done();
}

Finding tee_divides(const std::string& tee, const std::string& when, bool decides) {
  Draft d(!when.empty() ? split_decides_at_times_rule
          : decides     ? split_decides_rule
                        : split_undetermined_rule,
          Severity::warning);
  d.at_place(tee);
  say_when(d.message, when);
  d.message.name(tee).say(when.empty() ? " stands on a high point and does not run full:"
                                       : " does not run full:");
  d.message.say(
      " a few centimetres of pipe decide how the water divides there, which no calculation can tell.");
  d.advice.say("Put a small box with a weir for each line there, or move the tee below the high point.");
  d.source("common practice, no source");
  return d.done();
}

}  // namespace

// At the air's pressure a few centimetres of pipe decide how much goes which way.
void undetermined_splits(const Case& c, Findings& out) {
  const std::vector<double> asked_m3s = asked_at_m3s(c.system, c.state, c.asks);
  std::set<std::string> told;
  for (const Split& split : splits_of(c.system, c.state)) {
    const std::string& name = c.system.place_name(split.place);
    const bool hang = std::any_of(c.asks.begin(), c.asks.end(), [&](const AskResult& r) {
      return std::any_of(r.hangs_on.begin(), r.hangs_on.end(),
                         [&](const HangsOn& one) { return one.when.empty() && one.place == name; });
    });
    const bool decides =
        hang || needs_hang_on(c.system, c.state, split, asked_m3s) || velocity_asked_in(c, split.branches);
    const bool tee = c.system.kind(split.place) == network::PlaceKind::joint;
    if (!tee && !decides) continue;  // what no need hangs on is told of a tee alone
    out.push_back(tee ? tee_divides(name, {}, decides) : mouths_share(name, {}));
    if (decides) told.insert(name);
  }
  for (const AskResult& r : c.asks)
    for (const HangsOn& one : r.hangs_on)
      if (r.judged && r.met && !one.when.empty() && told.insert(one.place).second)
        out.push_back(c.system.joint(one.place) ? tee_divides(one.place, one.when, true)
                                                : mouths_share(one.place, one.when));
}

std::vector<Code> split_codes() {
  return {split_undetermined_rule, split_decides_rule, split_decides_at_times_rule, mouths_share_rule};
}

}  // namespace runnel::verdict
