// Tees that do not run full: how the water parts there cannot be worked out, and what that leaves open.
#include <algorithm>
#include <set>

#include "runnel/base/index.h"
#include "runnel/network/draws.h"
#include "runnel/network/no_flow.h"
#include "runnel/steady/kernel.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/rules.h"

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

bool full_at_start(const steady::LineState& run) {
  return run.reaches.empty() || run.reaches.front().state == steady::ReachState::full;
}

/// The lines by which water leaves a joint, where one of them does not run full at its start; none else.
std::vector<int> unfilled_branches(const Case& c, int here) {
  std::vector<int> leaving;
  bool unfilled = false;
  for (const int l : c.system.lines_at(here)) {
    const steady::LineState& run = c.state.lines[at(l)];
    if (c.system.lines()[at(l)].from != here || !(run.flow_m3s > 0.0)) continue;
    leaving.push_back(l);
    unfilled = unfilled || (!run.reaches.empty() && run.reaches.front().state != steady::ReachState::full);
  }
  if (!unfilled || leaving.size() < 2) leaving.clear();
  return leaving;
}

/// The flow that a need which is met takes [m3/s]: to fill in time, that share of what comes now.
double takes_m3s(const Case& c, const AskResult& r) {
  if (!r.judged || !r.met) return 0.0;
  if (r.ask.kind == network::AskKind::flow) return r.asked.si;
  if (r.ask.kind != network::AskKind::full_within || !r.got || !(r.asked.si > 0.0)) return 0.0;
  return brought_m3s(c.system, c.state, r.ask.at) * r.got->si / r.asked.si;
}

/// What is asked, and comes, at each place, and what is drawn from tanks over the day; empty if nothing is.
std::vector<double> asked_at_m3s(const Case& c) {
  std::vector<double> asked(at(c.system.places()), 0.0);
  for (const AskResult& r : c.asks)
    if (const auto place = c.system.find_place(r.ask.at)) asked[at(*place)] += takes_m3s(c, r);
  for (std::size_t t = 0; t < c.system.tanks().size(); ++t) {
    double& here = asked[at(c.system.tank_place(static_cast<int>(t)))];
    here = std::max(here, network::daily_mean(c.system.tanks()[t].draws).si());
  }
  if (std::all_of(asked.begin(), asked.end(), [](double one) { return one <= 0.0; })) asked.clear();
  return asked;
}

/// Whether a velocity is asked for in one of some lines.
bool velocity_asked_in(const Case& c, const std::vector<int>& lines) {
  const auto& asks = c.system.model().velocity_asks;
  return std::any_of(lines.begin(), lines.end(), [&](int l) {
    return std::any_of(asks.begin(), asks.end(), [&](const auto& ask) {
      return ask.in.empty() || ask.in == c.system.lines()[at(l)].name;
    });
  });
}

/// The flows that are asked, and come, where water of a line runs to.
double asked_below_m3s(const Case& c, const std::vector<double>& asked_m3s, int line) {
  std::set<int> seen{c.system.lines()[at(line)].to};
  std::vector<int> next(seen.begin(), seen.end());
  double sum = 0.0;
  while (!next.empty()) {
    const int here = next.back();
    next.pop_back();
    sum += asked_m3s[at(here)];
    for (const int l : c.system.lines_at(here)) {
      const double flow_m3s = c.state.lines[at(l)].flow_m3s;
      if (std::abs(flow_m3s) <= network::no_flow_m3s) continue;
      const network::Line& other = c.system.lines()[at(l)];
      const int from = flow_m3s > 0.0 ? other.from : other.to, to = flow_m3s > 0.0 ? other.to : other.from;
      if (from == here && seen.insert(to).second) next.push_back(to);
    }
  }
  return sum;
}

/// The most that each place takes away: what is drawn at a joint, and what taps let out there as people open
/// them. Open water and a tap that stands wide open take whatever comes.
std::vector<double> taken_at_m3s(const network::System& system) {
  std::vector<double> taken(at(system.places()), 0.0);
  for (int place = 0; place < system.places(); ++place) {
    if (const network::Joint* joint = system.joint(place)) taken[at(place)] = joint->draw.si();
    if (network::open_water(system.kind(place))) taken[at(place)] = steady::unbounded;
  }
  for (std::size_t o = 0; o < system.outlets().size(); ++o) {
    const int tap = static_cast<int>(o), on = system.hangs_on(tap);
    if (system.outlets()[o].shut) continue;
    const auto& most = system.lets_out(tap);
    taken[at(on < 0 ? system.outlet_place(tap) : on)] += most ? most->si() : steady::unbounded;
  }
  return taken;
}

/// The most that can leave a tee by one of its branches; without bound if that leads back to the tee.
double taken_below_m3s(const Case& c, const std::vector<double>& taken_m3s, int tee, int branch) {
  std::set<int> seen{tee};
  std::vector<int> next{c.system.lines()[at(branch)].to};
  double sum_m3s = 0.0;
  while (!next.empty()) {
    const int here = next.back();
    next.pop_back();
    if (!seen.insert(here).second) continue;
    sum_m3s += taken_m3s[at(here)];
    for (const int l : c.system.lines_at(here)) {
      const network::Line& line = c.system.lines()[at(l)];
      const int there = line.from == here ? line.to : line.from;
      if (there == tee && l != branch) return steady::unbounded;
      next.push_back(there);
    }
  }
  return sum_m3s;
}

/// The most that a branch carries from a tee at the air's pressure: what runs in it now if it runs full.
double most_m3s(const Case& c, int line, double in_m3s) {
  const steady::LineState& run = c.state.lines[at(line)];
  return full_at_start(run) ? run.flow_m3s : run.capacity_m3s.value_or(in_m3s);
}

/// Whether some branch may get less than is asked below it while the others carry all that they can.
bool needs_hang_on(const Case& c, const std::vector<double>& asked_m3s, int tee,
                   const std::vector<int>& branches) {
  if (asked_m3s.empty()) return false;
  const std::vector<double> taken_m3s = taken_at_m3s(c.system);
  double in_m3s = 0.0;
  for (const int l : branches) in_m3s += c.state.lines[at(l)].flow_m3s;
  for (const int l : branches) {
    double others_m3s = 0.0;
    for (const int other : branches)
      if (other != l)
        others_m3s += std::min(most_m3s(c, other, in_m3s), taken_below_m3s(c, taken_m3s, tee, other));
    const double least_m3s = std::max(0.0, in_m3s - others_m3s);
    if (asked_below_m3s(c, asked_m3s, l) > least_m3s * (1.0 + rounding)) return true;
  }
  return false;
}

}  // namespace

// At the air's pressure a few centimetres of pipe decide how much goes which way.
void undetermined_splits(const Case& c, Findings& out) {
  const std::vector<double> asked_m3s = asked_at_m3s(c);
  for (std::size_t j = 0; j < c.system.joints().size(); ++j) {
    const int tee = c.system.joint_place(static_cast<int>(j));
    const std::vector<int> branches = unfilled_branches(c, tee);
    if (branches.empty()) continue;
    const bool decides = needs_hang_on(c, asked_m3s, tee, branches) || velocity_asked_in(c, branches);
    Draft d(decides ? split_decides_rule : split_undetermined_rule, Severity::warning);
    d.at_place(c.system.joints()[j].name);
    d.message.name(c.system.joints()[j].name)
        .say(
            " stands on a high point and does not run full: a few centimetres of pipe decide how the water "
            "divides there, which no calculation can tell.");
    d.advice.say("Put a small box with a weir for each line there, or move the tee below the high point.");
    d.source("common practice, no source");
    out.push_back(d.done());
  }
}

std::vector<Code> split_codes() { return {split_undetermined_rule, split_decides_rule}; }

}  // namespace runnel::verdict
