#include "runnel/verdict/low_water.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/change.h"
#include "runnel/network/drawn_needs.h"
#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/network/no_flow.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/at_moment.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/splits.h"

namespace runnel::verdict {
namespace {

using network::System;

constexpr Code need_missed_at_low_water_rule{
    "need-missed-at-low-water",
    "a need that is missed when a tank stands low",
    "As drawn the need is met. With the tank at the lowest level that a usual day brings, or where its float "
    "valve opens again, and with the draws of that hour, it is not.",
    "A full tank presses more than a low one. Whoever looks at the tap with the tank full sees it run well.",
    "Let the float valve open sooner, lay larger pipe below the tank, set it higher, or bring more water to "
    "it.",
    "computed: the levels of a usual day, followed hour by hour",
    Filling::follows};

constexpr double seen_m = 1e-3;  // a millimetre is no other level

/// A moment that is judged.
struct Moment {
  std::string tank;
  double level_m;
  System system;
  bool with_air = true;  ///< with the air of the start in the lines
  LowWaterKind kind = LowWaterKind::lowest;
  std::vector<std::string> filling = {};  ///< tanks whose float valves are open
};

/// The moments of a day that stands for the others. The air is looked at in those in which a tank stands
/// lowest of all, and in all of them where it counts.
std::vector<Moment> moments_of(const System& system, const filling::TypicalDay& day, bool air_counts) {
  const auto lowest_of_all = [&](const filling::MomentOfDay& moment) {
    return std::any_of(day.lowest.begin(), day.lowest.end(), [&](const filling::LowestOfDay& low) {
      return low.tank == moment.tank && moment.level_m <= low.level_m + seen_m;
    });
  };
  std::vector<Moment> moments;
  for (const filling::MomentOfDay& one : day.moments) {
    auto there = network::resolve(at_moment(network::at_hour(system.model(), one.hour), one));
    if (!there) continue;
    const bool lowest = lowest_of_all(one);
    std::vector<std::string> filling;
    for (const filling::FloatThen& valve : one.floats)
      if (valve.open) filling.push_back(valve.tank);
    moments.push_back({one.tank, one.level_m, std::move(*there.value), air_counts || lowest,
                       lowest ? LowWaterKind::lowest : LowWaterKind::sunk, std::move(filling)});
  }
  return moments;
}

/// Where float valves open again, of tanks that something runs out of.
std::vector<Moment> floats_opening(const System& system, const steady::State& state,
                                   const std::vector<std::string>& sinking) {
  std::vector<Moment> moments;
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    const network::Tank& tank = system.tanks()[t];
    const auto floats = network::floats_of(system.model(), tank);
    if (floats.empty() || tank.held) continue;
    const double out_m3s = brought_m3s(system, state, tank.name) - state.tanks[t].inflow_m3s;
    const bool sinks = std::find(sinking.begin(), sinking.end(), tank.name) != sinking.end();
    if (!sinks && !(out_m3s > network::no_flow_m3s)) continue;
    Length opens = floats.front().opens_at;  // the first to open keeps it from sinking on
    for (const network::FloatValve& valve : floats) opens = std::max(opens, valve.opens_at);
    if (opens.metres() < tank.level.metres() - seen_m)
      moments.push_back({tank.name, opens.metres(), network::with_level(system, tank.name, opens)});
  }
  return moments;
}

/// Tanks that are filled from below and asked for a flow, as full as they get: then least runs in.
std::vector<Moment> risen(const System& system) {
  std::vector<Moment> moments;
  for (const network::Tank& tank : system.tanks()) {
    const Length highest = network::just_below_full(system.model(), tank);
    const bool asked = network::flow_asked_at(system.model(), tank.name) > Flow{};
    if (asked && !tank.held && highest > tank.inlet && tank.level < highest)
      moments.push_back(  // what air does then: rising_tanks.h
          {tank.name, highest.metres(), network::with_level(system, tank.name, highest), false});
  }
  return moments;
}

/// The needs at one moment with the air of the start, which may take at low water what a full tank has to
/// spare; none if no state settled. What runs then need not last.
std::optional<std::vector<AskResult>> needs_then(const System& system, bool with_air) {
  const steady::State state = steady::solve(system);
  if (!state.proved()) return std::nullopt;
  std::vector<AskResult> asks = judge_asks(system, state);
  if (with_air) judge_with_air(system, held_by_air(system), asks);
  return asks;
}

bool shut_then(const Moment& moment, const AskResult& r) {
  const network::Outlet* tap = moment.system.outlet(r.ask.at);
  return tap && tap->shut;
}

/// What of a moment a place lacks water for: a tank beside it that fills, if there is one, or the tank that
/// stands low.
LowWater who_takes(const Moment& moment, const std::string& place) {
  const network::Model& model = moment.system.model();
  for (const std::string& tank : moment.filling) {
    const bool beside = tank != place && !gives_to(model, tank, place);
    if (beside && (tank == moment.tank || gives_to(model, moment.tank, tank)))
      return {tank, moment.system.tank(tank)->level.metres(), LowWaterKind::float_open};
  }
  return {moment.tank, moment.level_m, moment.kind};
}

void hold_to(const Moment& moment, std::vector<AskResult>& asks) {
  const auto then = needs_then(moment.system, moment.with_air);
  if (!then || then->size() != asks.size()) return;
  also_hang_on(*then, "when tanks stand low,", asks);
  for (std::size_t i = 0; i < asks.size(); ++i) {
    AskResult& now = asks[i];
    const AskResult& low = (*then)[i];
    // What air holds back already may still be short at low water once the air is gone.
    const bool by_air = now.held_by_air() && !now.low_water;
    const bool held = now.judged && !now.cut_off && (now.met || now.low_water || by_air) &&
                      now.ask.kind != network::AskKind::full_within;
    if (!held || !low.judged || low.met || shut_then(moment, now)) continue;
    const auto got = [](const AskResult& r) { return r.got ? r.got->si : 0.0; };
    if (by_air && low.held_by_air()) continue;
    if (now.low_water && got(low) >= got(now)) continue;
    now.met = false;
    now.got = low.got;
    if (by_air && !low.air)
      now.air->met_without = false;  // its places still have to be let out
    else
      now.air = low.air;
    now.low_water = who_takes(moment, now.ask.at);
  }
}

/// Air that takes head at that moment has to go as well.
void advise_vents_too(const AskResult& r, Draft& d) {
  if (!r.air) return;
  for (const AirPlace& held : r.air->held)
    d.advice.say(" And put an air valve at ")
        .figure(Kind::length, held.station_m)
        .say(" of ")
        .name(held.pipeline)
        .say(".");
}

Finding missed(const System& system, const AskResult& r) {
  Draft d(need_missed_at_low_water_rule, Severity::error);
  d.at_place(r.ask.at);
  if (r.got) d.against(*r.got, r.asked);
  d.message.append(shortfall(r)).say(".");
  const network::Tank* filled = system.tank(r.ask.at);
  const bool itself = filled && r.ask.at == r.low_water->tank;
  if (itself && !network::floats_of(system.model(), *filled).empty()) {
    d.advice.say("Let every float valve of ")
        .name(r.ask.at)
        .say(" open at a higher level, bring more water,");
    d.advice.say(" or ask for no more than is drawn.");
    return d.done();
  }
  if (itself && filled->draws.empty() && r.low_water->level_m > filled->level.metres() + seen_m) {
    d.advice.say("The higher ")
        .name(r.ask.at)
        .say(" stands the less runs in: bring the line in over its lip,");
    d.advice.say(" lay larger pipe, or set it lower.");
    return d.done();
  }
  if (itself && r.low_water->level_m > filled->level.metres() + seen_m) {
    d.advice.say("So high no more runs into ")
        .name(r.ask.at)
        .say(" than leaves it: set it lower, or ask for");
    d.advice.say(" no more than is drawn.");
    return d.done();
  }
  if (!itself && !gives_to(system.model(), r.low_water->tank, r.ask.at)) {
    d.advice.say("While ").name(r.low_water->tank).say(" fills it takes the head that ").name(r.ask.at);
    d.advice.say(" needs: throttle the way into it, or lay larger pipe up to where their ways part.");
    advise_vents_too(r, d);
    return d.done();
  }
  d.advice.say("Let ")
      .name(r.low_water->tank)
      .say(" stand higher: a wider tank, a float valve that opens sooner, more water");
  d.advice.say(" into it, or fewer draws. Or lay larger pipe from there to ").name(r.ask.at).say(".");
  advise_vents_too(r, d);
  return d.done();
}

}  // namespace

void judge_low_water(const System& system, const steady::State& state, const filling::TypicalDay& day,
                     FlowVerdict& verdict) {
  const auto any = [&](auto test) { return std::any_of(verdict.asks.begin(), verdict.asks.end(), test); };
  if (system.tanks().empty() ||
      !any([](const AskResult& r) { return (r.judged && r.met) || r.held_by_air(); }))
    return;
  auto moments = bridges_the_hours(system, day) ? moments_of(system, day, air_counts(verdict.asks))
                                                : std::vector<Moment>{};
  // Draws that are missed day after day say it themselves.
  if (!day.known || !day.until_floats_open.empty())
    for (Moment& moment : floats_opening(system, state, day.until_floats_open))
      moments.push_back(std::move(moment));
  if (!day.known)
    for (Moment& moment : risen(system)) moments.push_back(std::move(moment));
  for (const Moment& moment : moments) hold_to(moment, verdict.asks);
  for (const AskResult& r : verdict.asks) {
    if (!r.low_water) continue;
    // What it misses then it misses in its hours, which need not be told a second time.
    std::erase_if(verdict.findings, [&](const Finding& f) {
      return f.code == "draw-missed-in-its-hours" && f.where.place == r.ask.at;
    });
    // What the air alone takes is told with the places where it is let out (air_flow.h).
    if (!r.held_by_air()) verdict.findings.push_back(missed(system, r));
  }
}

std::vector<Code> low_water_codes() { return {need_missed_at_low_water_rule}; }

}  // namespace runnel::verdict
