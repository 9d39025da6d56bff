#include "runnel/verdict/filling_needs.h"

#include <algorithm>

#include "runnel/filling/fill.h"
#include "runnel/network/change.h"
#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/at_moment.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/start_levels.h"

namespace runnel::verdict {
namespace {

using filling::FillHistory;
using filling::FillOutcome;

bool is_open(const AskResult& r) { return r.ask.kind == network::AskKind::full_within && !r.cut_off; }

double longest_s(const std::vector<AskResult>& asks) {
  double longest = 0.0;
  for (const AskResult& r : asks)
    if (is_open(r)) longest = std::max(longest, r.asked.si);
  return longest;
}

void judge_one(const FillHistory& history, AskResult& r) {
  const filling::StorageHistory* tank = history.storage(r.ask.at);
  if (history.outcome != FillOutcome::done || !tank) {
    r.why_not_judged = "the filling could not be followed to that time";
    return;
  }
  r.judged = true;
  r.why_not_judged.clear();
  if (tank->full_after_s) r.got = Figure{Kind::duration, *tank->full_after_s};
  r.met = tank->full_after_s && *tank->full_after_s <= r.asked.si * (1.0 + rounding);
}

/// Takes all that is written under `draws` out of a model. Returns where it was drawn.
std::vector<std::string> leave_out_draws(network::Model& model) {
  std::vector<std::string> places;
  const auto leave_out = [&](auto& all, auto close) {
    for (auto& place : all) {
      if (place.draws.empty()) continue;
      places.push_back(place.name);
      place.draws.clear();
      close(place);
    }
  };
  leave_out(model.tanks, [](network::Tank&) {});
  leave_out(model.outlets, [](network::Outlet& tap) { tap.shut = true; });
  leave_out(model.joints, [](network::Joint& joint) { joint.draw = {}; });
  return places;
}

/// Where a tank is not full in time only because of what is drawn while it fills, that is the reason.
void find_draws(const network::System& system, const filling::FillOptions& options,
                std::vector<AskResult>& asks) {
  const auto late = [](const AskResult& r) { return is_open(r) && r.judged && !r.met; };
  network::Model model = system.model();
  const std::vector<std::string> places = leave_out_draws(model);
  if (places.empty() || std::none_of(asks.begin(), asks.end(), late)) return;
  const auto undrawn = network::resolve(std::move(model));
  if (!undrawn) return;
  const FillHistory history = filling::fill(*undrawn.value, options);
  for (AskResult& r : asks) {
    if (!late(r)) continue;
    AskResult then = r;
    judge_one(history, then);
    if (then.judged && then.met)
      r.reason = Reason{.bound = Bound::draws, .taps = places, .with = *then.got, .cures = true};
  }
}

/// The same with the lip of a tank, and what stands over that, as high as given.
std::optional<network::System> with_lip(const network::System& system, const std::string& name, Length lip) {
  network::Model model = system.model();
  for (network::Tank& tank : model.tanks)
    if (tank.name == name) {
      if (tank.rim) tank.rim = *tank.rim + (lip - tank.lip);
      tank.lip = lip;
    }
  auto there = network::resolve(std::move(model));
  return there ? std::optional(std::move(*there.value)) : std::nullopt;
}

/// Where a tank is never full because one that is joined with it runs over first, the lip of that one is the
/// reason.
void find_lower_lips(const network::System& system, const filling::FillOptions& options,
                     const filling::TypicalDay& day, const FillHistory& history,
                     std::vector<AskResult>& asks) {
  for (AskResult& r : asks) {
    const network::Tank* filled = system.tank(r.ask.at);
    if (!is_open(r) || !r.judged || r.met || r.reason || !filled) continue;
    const Length full = network::full_level(system.model(), *filled);
    for (const network::Tank& other : system.tanks()) {
      const auto* storage = history.storage(other.name);
      if (other.name == filled->name || other.lip >= full || !storage || !(storage->spilled_m3 > 0.0))
        continue;
      const auto raised = with_lip(system, other.name, full);
      if (!raised) continue;
      AskResult then = r;
      judge_slowest(fillings_begun_at_any_time(*raised, options, day), then);
      if (!then.judged || !then.met) continue;
      r.reason = Reason{.bound = Bound::lower_lip,
                        .place = other.name,
                        .dug_m = full.metres(),
                        .with = *then.got,
                        .cures = true};
      break;
    }
  }
}

bool nothing_leaves(const network::System& system, const std::string& tank) {
  const network::Tank* here = system.tank(tank);
  const auto place = system.find_place(tank);
  if (!here || !place || !here->draws.empty()) return false;
  const auto& lines = system.lines_at(*place);
  return std::none_of(lines.begin(), lines.end(),
                      [&](int l) { return system.lines()[static_cast<std::size_t>(l)].from == *place; });
}

/// With the air of the start in its line a tank fills slower by as much as less runs in, if nothing leaves it
/// meanwhile. Where something does, a time that is short enough without air tells nothing.
void judge_with_air(const network::System& system, const std::vector<FillHistory>& runs, const AirFlow& flow,
                    AskResult& r) {
  judge_slowest(runs, r);
  if (!r.judged || !r.met || !r.got) return;
  const bool known = nothing_leaves(system, r.ask.at) && flow.least_m3s > 0.0;
  const double slower_s = known ? r.got->si * flow.without_m3s / flow.least_m3s : 0.0;
  if (known && slower_s <= r.asked.si * (1.0 + rounding)) {
    r.got = Figure{Kind::duration, slower_s};
    return;
  }
  r.judged = r.met = false;
  r.got.reset();
  r.why_not_judged = slowed_by_air;
}

/// The tanks that are asked to be full in time, and the float valves into them, as another model has them.
void begin_as(const network::Model& other, network::Model& model) {
  const auto asked = [&](const std::string& tank) {
    return std::any_of(model.asks.begin(), model.asks.end(), [&](const network::Ask& ask) {
      return ask.kind == network::AskKind::full_within && ask.at == tank;
    });
  };
  for (std::size_t t = 0; t < model.tanks.size(); ++t)
    if (asked(model.tanks[t].name)) model.tanks[t] = other.tanks[t];
  for (std::size_t l = 0; l < model.pipelines.size(); ++l)
    if (asked(model.pipelines[l].to)) model.pipelines[l].float_valve = other.pipelines[l].float_valve;
}

}  // namespace

std::vector<FillHistory> fillings_begun_at_any_time(const network::System& system,
                                                    filling::FillOptions options,
                                                    const filling::TypicalDay& day) {
  // What comes after all of them have been full, or once each day is like the day before, tells nothing new.
  options.until_full = options.until_alike = true;
  for (const network::Ask& ask : system.asks())
    if (ask.kind == network::AskKind::full_within) options.to_fill.push_back(ask.at);
  std::vector<FillHistory> runs;
  for (const double hour : network::hours_to_start_at(system.model())) {
    options.start_hour = hour;
    runs.push_back(filling::fill(system, options));
  }
  if (!day.known || system.tanks().size() < 2) return runs;
  for (const filling::MomentOfDay& moment : day.moments) {
    network::Model model = at_moment(system.model(), moment);
    begin_as(system.model(), model);
    const auto there = network::resolve(std::move(model));
    if (!there) continue;
    options.start_hour = moment.hour;
    runs.push_back(filling::fill(*there.value, options));
  }
  return runs;
}

void judge_slowest(const std::vector<FillHistory>& runs, AskResult& r) {
  AskResult slowest;
  for (const FillHistory& history : runs) {
    AskResult one = r;
    judge_one(history, one);
    const auto worse = [](const AskResult& a, const AskResult& b) {
      if (a.judged != b.judged) return !a.judged;
      if (a.met != b.met) return !a.met;
      return a.got && b.got && a.got->si > b.got->si;
    };
    if (&history == &runs.front() || worse(one, slowest)) slowest = one;
  }
  r = slowest;
}

Finding filling_unproved() {
  Draft d("check-failed", Severity::error);
  d.message.say("The course of the filling did not pass the check that works it out again.");
  d.advice.say("Do not rely on it. Please send us the model: this should not happen.");
  d.source("the independent checker");
  return d.done();
}

void judge_filling(const network::System& system, const steady::State& state, const network::System& drawn,
                   const filling::TypicalDay& day, FlowVerdict& verdict) {
  if (std::none_of(verdict.asks.begin(), verdict.asks.end(), is_open)) return;
  const network::System lasting = as_it_lasts(with_asked_tanks_empty(drawn, verdict.findings), verdict);
  filling::FillOptions options;
  // A little longer than asked, so that a tank that is full at the last moment is seen to be.
  options.duration_s = longest_s(verdict.asks) * (1.0 + 10.0 * rounding);
  const std::vector<FillHistory> runs = fillings_begun_at_any_time(lasting, options, day);
  for (const FillHistory& history : runs)
    if (history.outcome == FillOutcome::done && !history.record.empty() && !history.proof.consistent) {
      verdict.findings.push_back(filling_unproved());
      break;
    }
  for (AskResult& r : verdict.asks) {
    if (!is_open(r)) continue;
    const network::Tank* tank = lasting.tank(r.ask.at);
    if (tank && tank->level > tank->floor) r.begins_at_m = tank->level.metres();
    if (all_ways_blocked(*verdict.air, r.ask.at))
      r.judged = true;  // and not met: nothing runs in
    else if (const auto flow = air_flow_at(system, state, *verdict.air, r.ask.at))
      judge_with_air(system, runs, *flow, r);
    else
      judge_slowest(runs, r);
  }
  find_draws(lasting, options, verdict.asks);
  find_lower_lips(lasting, options, day, runs.front(), verdict.asks);
}

}  // namespace runnel::verdict
