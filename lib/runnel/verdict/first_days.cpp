#include "runnel/verdict/first_days.h"

#include <algorithm>

#include "runnel/filling/draws.h"
#include "runnel/filling/fill.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {
namespace {

using network::System;

constexpr Code draws_missed_at_first_rule{
    "draws-missed-at-first",
    "a tank that does not give all that is drawn until it has filled",
    "From full tanks all that is drawn comes, day after day. From the levels as drawn, "
    "and from midnight on, some of it is missing before the tanks have filled.",
    "The herd that comes on the first day finds the trough empty; and whatever empties the tank once brings "
    "that day back.",
    "Let the tank fill before anything is drawn from it.",
    "computed: the draws followed hour by hour from the levels as drawn",
    Filling::follows};

constexpr double below_full_m = 1e-3;  // a millimetre is no water to speak of
constexpr double seen_share = 1e-3;    // of what is asked: a run is followed no more exactly
constexpr double longest_first_s = 30.0 * filling::day_s;
// Newton steps: a fraction of a second of a small system.
constexpr filling::WorkLimit patience_at_first{.at_once = 2e5, .a_day = 0.0};

/// A tank that stands below where it is full; none if all are full.
const network::Tank* low_tank(const System& system) {
  const auto low = std::find_if(system.tanks().begin(), system.tanks().end(), [&](const network::Tank& tank) {
    const Length full = network::full_level(system.model(), tank);
    return !tank.held && tank.level < full - Length::metres(below_full_m);
  });
  return low == system.tanks().end() ? nullptr : &*low;
}

/// How much is missing at first, and where.
struct Missing {
  std::string place;
  double missing_m3 = 0.0, asked_m3 = 0.0;
};

std::optional<Missing> missing_at_first(const System& system, const std::vector<std::string>& cut_off) {
  const auto due = [&](const std::string& place) {
    return std::find(cut_off.begin(), cut_off.end(), place) == cut_off.end();
  };
  const filling::FillHistory history = filling::fill(
      system, {.every_s = 0.0, .keep_steps = false, .most_s = longest_first_s, .work = patience_at_first});
  if (history.outcome != filling::FillOutcome::done) return std::nullopt;
  for (const filling::StorageHistory& tank : history.storages) {
    Missing found{tank.name};
    for (const filling::Shortfall& day : tank.short_days) found.missing_m3 += day.missing_m3;
    const network::Tank* t = system.tank(tank.name);
    found.asked_m3 = t ? network::daily_mean(t->draws).si() * filling::day_s : 0.0;
    if (due(tank.name) && found.missing_m3 > seen_share * found.asked_m3) return found;
  }
  for (const filling::PlaceHistory& place : history.places) {
    const Missing found{place.name, place.missing_m3(), place.asked_a_day_m3(history.duration_s)};
    if (place.by_the_hour && place.short_from_s && due(place.name) &&
        found.missing_m3 > seen_share * found.asked_m3)
      return found;
  }
  return std::nullopt;
}

}  // namespace

void judge_first_days(const System& drawn, const filling::TypicalDay& day,
                      const std::vector<std::string>& cut_off, FlowVerdict& verdict) {
  const network::Tank* low = low_tank(drawn);
  if (!low || !day.known || day.draws.empty() || !short_on(day).empty()) return;
  const auto missing = missing_at_first(as_it_lasts(drawn, verdict), cut_off);
  if (!missing) return;
  const std::string& filled = drawn.tank(missing->place) ? missing->place : low->name;
  Draft d(draws_missed_at_first_rule, Severity::warning);
  d.at_place(missing->place);
  d.message.figure(Kind::volume, missing->missing_m3).say(" of what is drawn at ").name(missing->place);
  d.message.say(" is missing before ").name(filled).say(" has filled.");
  d.advice.say("Let ").name(filled).say(" fill before anything is drawn from it.");
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence().say("once ").name(filled).say(" has filled"));
}

std::vector<Code> first_days_codes() { return {draws_missed_at_first_rule}; }

}  // namespace runnel::verdict
