#include "runnel/verdict/splits.h"

#include <algorithm>
#include <set>

#include "runnel/base/index.h"
#include "runnel/network/draws.h"
#include "runnel/network/no_flow.h"
#include "runnel/network/place_kinds.h"
#include "runnel/steady/kernel.h"
#include "runnel/verdict/float_turns.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

using network::System;
using steady::State;

// Mouths that lie lower than another by more than this get their water whatever happens at the other: common
// practice, no source.
constexpr double firm_below_m = 0.05;

bool drawn_from(const System& system, int line, int place) { return system.lines()[at(line)].from == place; }

/// The end of a line other than one of its two.
int far_end(const System& system, int line, int place) {
  const network::Line& one = system.lines()[at(line)];
  return one.from == place ? one.to : one.from;
}

/// What runs in a line away from one of its ends [m3/s]; negative if it comes.
double leaves_m3s(const System& system, const State& state, int line, int place) {
  const double flow_m3s = state.lines[at(line)].flow_m3s;
  return drawn_from(system, line, place) ? flow_m3s : -flow_m3s;
}

bool full_at(const System& system, const State& state, int line, int place) {
  const auto& reaches = state.lines[at(line)].reaches;
  if (reaches.empty()) return true;
  const steady::Reach& next = drawn_from(system, line, place) ? reaches.front() : reaches.back();
  return next.state == steady::ReachState::full;
}

/// The lines by which water leaves a place, where one of them does not run full there; none else.
std::vector<int> unfilled_branches(const System& system, const State& state, int place) {
  std::vector<int> leaving;
  bool unfilled = false;
  for (const int l : system.lines_at(place)) {
    if (!(leaves_m3s(system, state, l, place) > 0.0)) continue;
    leaving.push_back(l);
    unfilled = unfilled || !full_at(system, state, l, place);
  }
  if (!unfilled || leaving.size() < 2) leaving.clear();
  return leaving;
}

/// Of the lines that leave open water, those that share it over the edges of their mouths: the ones that do
/// not run full there, and any that lie hardly lower. None if fewer than two do.
std::vector<int> sharing_mouths(const System& system, const State& state, int place) {
  std::vector<int> sharing = unfilled_branches(system, state, place);
  const auto mouth_m = [&](int l) {
    const network::Line& line = system.lines()[at(l)];
    return (line.from == place ? line.start_elevation() : line.end_elevation()).metres();
  };
  double water_m = -steady::unbounded;
  for (const int l : sharing)
    if (!full_at(system, state, l, place)) water_m = std::max(water_m, mouth_m(l));
  std::erase_if(sharing, [&](int l) {
    return full_at(system, state, l, place) && mouth_m(l) < water_m - firm_below_m;
  });
  if (sharing.size() < 2) sharing.clear();
  return sharing;
}

/// The flow that a need which is met takes [m3/s]: to fill in time, that share of what comes now.
double takes_m3s(const System& system, const State& state, const AskResult& r) {
  if (!r.judged || !r.met) return 0.0;
  if (r.ask.kind == network::AskKind::flow) return r.asked.si;
  if (r.ask.kind != network::AskKind::full_within || !r.got || !(r.asked.si > 0.0)) return 0.0;
  return brought_m3s(system, state, r.ask.at) * r.got->si / r.asked.si;
}

/// Every place that water of a branch runs to, from the tee on.
std::set<int> places_below(const System& system, const State& state, int tee, int branch) {
  std::set<int> seen{far_end(system, branch, tee)};
  std::vector<int> next(seen.begin(), seen.end());
  while (!next.empty()) {
    const int here = next.back();
    next.pop_back();
    for (const int l : system.lines_at(here))
      if (leaves_m3s(system, state, l, here) > network::no_flow_m3s) {
        const int there = far_end(system, l, here);
        if (seen.insert(there).second) next.push_back(there);
      }
  }
  return seen;
}

/// The most that each place takes away: what is drawn at a joint, and what taps let out there as people open
/// them. Open water and a tap that stands wide open take whatever comes.
std::vector<double> taken_at_m3s(const System& system) {
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
double taken_below_m3s(const System& system, const std::vector<double>& taken_m3s, int tee, int branch) {
  std::set<int> seen{tee};
  std::vector<int> next{far_end(system, branch, tee)};
  double sum_m3s = 0.0;
  while (!next.empty()) {
    const int here = next.back();
    next.pop_back();
    if (!seen.insert(here).second) continue;
    sum_m3s += taken_m3s[at(here)];
    for (const int l : system.lines_at(here)) {
      const int there = far_end(system, l, here);
      if (there == tee && l != branch) return steady::unbounded;
      next.push_back(there);
    }
  }
  return sum_m3s;
}

/// A branch of a split.
struct Branch {
  int line = 0;
  double now_m3s = 0.0, most_m3s = 0.0;
  std::set<int> below;  ///< every place that its water runs to
};

std::vector<Branch> branches_of(const System& system, const State& state, const Split& split) {
  const std::vector<double> taken_m3s = taken_at_m3s(system);
  std::vector<Branch> all;
  double in_m3s = 0.0;
  for (const int l : split.branches) in_m3s += leaves_m3s(system, state, l, split.place);
  for (const int l : split.branches) {
    const double now_m3s = leaves_m3s(system, state, l, split.place);
    const steady::LineState& run = state.lines[at(l)];
    // At the air's pressure a line that runs full carries what runs in it now.
    const double carries_m3s = full_at(system, state, l, split.place) ? now_m3s
                               : run.from_air_m3s                     ? *run.from_air_m3s
                                                                      : run.capacity_m3s.value_or(in_m3s);
    all.push_back({l, now_m3s, std::min(carries_m3s, taken_below_m3s(system, taken_m3s, split.place, l)),
                   places_below(system, state, split.place, l)});
  }
  return all;
}

/// What the branches that lead to a place get together, and what may be left of it.
struct Share {
  double now_m3s = 0.0, least_m3s = 0.0;
  double asked_m3s = 0.0;  ///< at all places that these branches lead to
};

Share share_of(const std::vector<Branch>& branches, int place, const std::vector<double>& asked_m3s) {
  Share share;
  std::set<int> below;
  double in_m3s = 0.0, others_m3s = 0.0;
  for (const Branch& branch : branches) {
    in_m3s += branch.now_m3s;
    if (!branch.below.contains(place)) {
      others_m3s += branch.most_m3s;
      continue;
    }
    share.now_m3s += branch.now_m3s;
    below.insert(branch.below.begin(), branch.below.end());
  }
  share.least_m3s = std::max(0.0, in_m3s - others_m3s);
  if (!asked_m3s.empty())
    for (const int one : below) share.asked_m3s += asked_m3s[at(one)];
  return share;
}

/// Whether more is asked than is left in the worst case.
bool flow_hangs(const Share& share) { return share.asked_m3s > share.least_m3s * (1.0 + rounding); }

/// Whether what is left in the worst case is less: then another pressure stands there.
bool pressure_hangs(const Share& share) { return share.now_m3s > share.least_m3s * (1.0 + rounding); }

bool leads_to(const std::vector<Branch>& branches, int place) {
  return std::any_of(branches.begin(), branches.end(),
                     [&](const Branch& branch) { return branch.below.contains(place); });
}

/// Whether the branches lead to troughs that hold out whichever fills first.
bool take_turns(const System& system, const Split& split, const std::vector<Branch>& branches,
                const std::vector<double>& asked_m3s) {
  double in_m3s = 0.0;
  std::vector<TurnBranch> turns;
  for (const Branch& branch : branches) {
    in_m3s += branch.now_m3s;
    turns.push_back({branch.line, branch.most_m3s});
  }
  return floats_take_turns(system, split.place, turns, in_m3s, asked_m3s);
}

bool any_unfilled(const State& state) {
  return std::any_of(state.lines.begin(), state.lines.end(), [](const steady::LineState& run) {
    return run.flow_m3s != 0.0 && !run.reaches.empty() &&
           (run.reaches.front().state != steady::ReachState::full ||
            run.reaches.back().state != steady::ReachState::full);
  });
}

}  // namespace

std::vector<Split> splits_of(const System& system, const State& state) {
  std::vector<Split> splits;
  if (state.outcome != steady::Outcome::settled || state.lines.size() != system.lines().size() ||
      !any_unfilled(state))
    return splits;
  for (int place = 0; place < system.places(); ++place) {
    const network::PlaceKind kind = system.kind(place);
    const bool tee = kind == network::PlaceKind::joint;
    if (!tee && !network::open_water(kind)) continue;
    std::vector<int> branches =
        tee ? unfilled_branches(system, state, place) : sharing_mouths(system, state, place);
    if (!branches.empty()) splits.push_back({place, std::move(branches)});
  }
  return splits;
}

std::vector<double> asked_at_m3s(const System& system, const State& state,
                                 const std::vector<AskResult>& asks) {
  std::vector<double> asked(at(system.places()), 0.0);
  for (const AskResult& r : asks)
    if (const auto place = system.find_place(r.ask.at)) asked[at(*place)] += takes_m3s(system, state, r);
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    double& here = asked[at(system.tank_place(static_cast<int>(t)))];
    here = std::max(here, network::daily_mean(system.tanks()[t].draws).si());
  }
  if (std::all_of(asked.begin(), asked.end(), [](double one) { return one <= 0.0; })) asked.clear();
  return asked;
}

bool needs_hang_on(const System& system, const State& state, const Split& split,
                   const std::vector<double>& asked_m3s) {
  if (asked_m3s.empty()) return false;
  const std::vector<Branch> branches = branches_of(system, state, split);
  if (take_turns(system, split, branches, asked_m3s)) return false;
  for (int place = 0; place < system.places(); ++place)
    if (asked_m3s[at(place)] > 0.0 && leads_to(branches, place) &&
        flow_hangs(share_of(branches, place, asked_m3s)))
      return true;
  return false;
}

void mark_splits(const System& system, const State& state, std::vector<AskResult>& asks) {
  const std::vector<Split> splits = asks.empty() ? std::vector<Split>{} : splits_of(system, state);
  if (splits.empty()) return;
  const std::vector<double> asked_m3s = asked_at_m3s(system, state, asks);
  for (const Split& split : splits) {
    const std::vector<Branch> branches = branches_of(system, state, split);
    for (AskResult& r : asks) {
      const auto place = system.find_place(r.ask.at);
      if (!r.judged || !r.met || !place || !leads_to(branches, *place)) continue;
      const Share share = share_of(branches, *place, asked_m3s);
      const bool pressure = r.ask.kind == network::AskKind::pressure;
      if (!(pressure ? pressure_hangs(share) : flow_hangs(share))) continue;
      r.hangs_on.push_back({system.place_name(split.place), ""});
      r.least_m3s = std::min(r.least_m3s.value_or(share.least_m3s), share.least_m3s);
    }
  }
}

void also_hang_on(const AskResult& then, const char* when, AskResult& now) {
  if (!then.judged || !then.met) return;
  for (const HangsOn& one : then.hangs_on) {
    const bool known = std::any_of(now.hangs_on.begin(), now.hangs_on.end(),
                                   [&](const HangsOn& other) { return other.place == one.place; });
    if (!known) now.hangs_on.push_back({one.place, when});
  }
}

void also_hang_on(const std::vector<AskResult>& then, const char* when, std::vector<AskResult>& asks) {
  for (std::size_t i = 0; i < asks.size() && i < then.size(); ++i) also_hang_on(then[i], when, asks[i]);
}

Sentence hangs_then(const AskResult& then) {
  return Sentence()
      .say("how the water divides at ")
      .name(then.hangs_on.front().place)
      .say(" decides what ")
      .name(then.ask.at)
      .say(" gets");
}

bool hangs_only_then(const AskResult& now, const AskResult& then) {
  return now.hangs_on.empty() && !then.hangs_on.empty();
}

}  // namespace runnel::verdict
