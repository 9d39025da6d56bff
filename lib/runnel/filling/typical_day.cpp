#include "runnel/filling/typical_day.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "runnel/filling/basins.h"
#include "runnel/filling/draws.h"
#include "runnel/filling/series.h"
#include "runnel/network/change.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/network/mouths.h"
#include "runnel/steady/state.h"

namespace runnel::filling {
namespace {

using network::PlaceKind;
using network::System;

// Newton steps: seconds for a small system whose levels chatter, which is rare.
constexpr WorkLimit patience_with_a_day{.at_once = 1e6, .a_day = 0.0};
// Of a tank's volume in a step: what comes is followed to a thousandth only.
constexpr double exact_enough = 1e-6;
// A tank that falls in a day by less than this share of its depth takes years to empty.
constexpr double sinks_share_of_depth = 1e-4;
// A tank that has sunk for so long will keep sinking, and its days will not become alike.
constexpr double longest_s = 30.0 * day_s;
// Float valves that open every day or nearly so show in a month whatever they do.
constexpr double usual_cycle_s = 1.5 * day_s;
// Of longer cycles so many are followed, within a year. A judgement.
constexpr double cycles_followed = 8.0, most_s = 366.0 * day_s;

template <class Row, class Total>
double last_day_m3(const std::vector<Row>& series, Total total) {
  if (series.empty()) return 0.0;
  return total(series.back()) - value_at(series, series.back().time_s - day_s, total);
}

/// What a place gets on the last day or, where float valves open every other day, on a worse one before.
double worst_day_m3(const std::vector<PlaceRow>& series) {
  const auto total = [](const PlaceRow& row) { return row.total_m3; };
  double worst_m3 = last_day_m3(series, total), before_m3 = 0.0;
  std::size_t i = 0;
  for (double midnight_s = day_s; !series.empty() && midnight_s <= series.back().time_s;
       midnight_s += day_s) {
    while (i + 1 < series.size() && series[i + 1].time_s <= midnight_s) ++i;
    worst_m3 = std::min(worst_m3, total(series[i]) - before_m3);  // a run has a row at every midnight
    before_m3 = total(series[i]);
  }
  return worst_m3;
}

/// The highest level within some time before another.
double highest_m(const StorageHistory& tank, double within_s, double until_s) {
  double highest = -std::numeric_limits<double>::infinity();
  for (const Row& row : tank.series)
    if (row.time_s > until_s - within_s && row.time_s <= until_s) highest = std::max(highest, row.level_m);
  return highest;
}

/// A float valve in a run.
struct FloatSeen {
  double opened_s = 0.0;  ///< for the last time
  double apart_s = 0.0;   ///< the longest time from one opening to the next, and from the start to the first
  bool shut = false;      ///< since it opened for the last time
};

/// Every float valve that opens.
std::vector<FloatSeen> floats_seen(const FillHistory& history) {
  std::map<std::string, FloatSeen> valves;
  for (const Event& event : history.events) {
    const std::string valve = event.float_valve();
    if (event.what == EventKind::float_shuts && valves.count(valve) > 0) valves[valve].shut = true;
    if (event.what != EventKind::float_opens) continue;
    FloatSeen& seen = valves[valve];
    seen = {event.time_s, std::max(seen.apart_s, event.time_s - seen.opened_s), false};
  }
  std::vector<FloatSeen> all;
  for (const auto& [valve, seen] : valves) all.push_back(seen);
  return all;
}

/// The longest time between two openings of a float valve, and from the last one to the end unless it is
/// still open, since it will not open again as long as it is; none if no float valve opens.
double cycle_s(const FillHistory& history) {
  double longest = 0.0;
  for (const FloatSeen& seen : floats_seen(history))
    longest = std::max({longest, seen.apart_s, seen.shut ? history.duration_s - seen.opened_s : 0.0});
  return longest;
}

/// The time at the end in which every float valve that opens at all has opened.
double all_opened_within_s(const FillHistory& history) {
  double longest = 0.0;
  for (const FloatSeen& seen : floats_seen(history))
    longest = std::max({longest, seen.apart_s, history.duration_s - seen.opened_s});
  return longest;
}

/// The part of a run in which everything happens that happens at all: a day or, where float valves open every
/// few days, a quarter of a run of many of their cycles. None where so many have not been seen.
std::optional<double> window_s(const FillHistory& history) {
  const double cycle = cycle_s(history), quarter = 0.25 * history.duration_s;
  if (cycle <= usual_cycle_s) return day_s;
  return cycle <= quarter ? std::optional(quarter) : std::nullopt;
}

/// Whether a tank still came less high each time at the end of the longest run. A float valve that opens
/// every few days would have filled it again. One that falls by less each time than the time before comes to
/// stand where the rest of such a series leads, and does not sink if that is above its floor.
bool sinks(const StorageHistory& tank, const FillHistory& history, const network::Tank& drawn) {
  const auto within_s = window_s(history);
  if (!within_s || history.rest != RestKind::no || history.duration_s < longest_s - 1.0) return false;
  std::array<double, 4> high_m{};
  for (std::size_t back = 0; back < high_m.size(); ++back)
    high_m[back] =
        highest_m(tank, *within_s, tank.series.back().time_s - static_cast<double>(back) * *within_s);
  const double fell_m = high_m[1] - high_m[0], before_m = high_m[2] - high_m[1],
               first_m = high_m[3] - high_m[2];
  const double seen_m = sinks_share_of_depth * (drawn.lip - drawn.floor).metres();
  if (!(fell_m > seen_m * *within_s / day_s)) return false;
  if (!(before_m > fell_m && first_m > before_m)) return true;
  const double share = std::max(fell_m / before_m, before_m / first_m);
  return high_m[0] - fell_m * share / (1.0 - share) <= drawn.floor.metres() + seen_m;
}

/// The level at which the first of a tank's float valves opens; none without one.
std::optional<double> opens_m(const System& system, const network::Tank& tank) {
  std::optional<double> highest;
  for (const network::FloatValve& valve : network::floats_of(system.model(), tank))
    highest = std::max(highest.value_or(valve.opens_at.metres()), valve.opens_at.metres());
  return highest;
}

/// Tanks that only sink to where a float valve opens: little is drawn, and the float leaves a wide band.
std::vector<std::string> waiting_for_floats(const System& system, const FillHistory& history) {
  std::vector<std::string> tanks;
  for (const StorageHistory& tank : history.storages) {
    const network::Tank* t = system.tank(tank.name);
    if (!t || tank.series.empty() || !sinks(tank, history, *t)) continue;
    const auto opens = opens_m(system, *t);
    if (opens && tank.series.back().level_m > *opens) tanks.push_back(tank.name);
  }
  return tanks;
}

bool among(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

/// Tanks that keep sinking, and that no float valve will fill again.
std::vector<std::string> sinking_tanks(const System& system, const FillHistory& history) {
  const std::vector<std::string> waiting = waiting_for_floats(system, history);
  std::vector<std::string> tanks;
  for (const StorageHistory& tank : history.storages) {
    const network::Tank* t = system.tank(tank.name);
    if (t && !tank.series.empty() && !among(waiting, tank.name) && sinks(tank, history, *t))
      tanks.push_back(tank.name);
  }
  return tanks;
}

void read_last_day(const System& system, const FillHistory& history, TypicalDay& day) {
  const std::vector<std::string> sinking = sinking_tanks(system, history);
  if (!sinking.empty()) day.sinking = sinking.back();
  for (const StorageHistory& tank : history.storages) {
    const network::Tank* t = system.tank(tank.name);
    if (!t || tank.series.empty()) continue;
    const double asked_m3 = network::daily_mean(t->draws).si() * day_s;
    if (asked_m3 > 0.0 && history.rest == RestKind::rest && tank.ends_empty()) day.sinking = tank.name;
    if (!(asked_m3 > 0.0)) continue;
    double given_m3 = last_day_m3(tank.series, [](const Row& row) { return row.drawn_m3; });
    // A float valve that opens every other day leaves some days short. It begins full: none is short by
    // chance.
    for (const Shortfall& short_day : tank.short_days)
      given_m3 = std::min(given_m3, asked_m3 - short_day.missing_m3);
    day.draws.push_back({tank.name, PlaceKind::tank, asked_m3, given_m3});
  }
  for (const PlaceHistory& place : history.places) {
    const network::Joint* joint = system.joint(place.name);
    const network::Outlet* tap = system.outlet(place.name);
    if (!place.by_the_hour || (!joint && !tap)) continue;
    const double asked_m3 = network::daily_mean(joint ? joint->draws : tap->draws).si() * day_s;
    day.draws.push_back({place.name, place.kind, asked_m3, worst_day_m3(place.series)});
  }
}

/// How low each tank stood in the last time of a run.
std::vector<LowestOfDay> lowest_at_last(const System& system, const FillHistory& history, double within_s) {
  std::vector<LowestOfDay> all;
  for (const StorageHistory& tank : history.storages) {
    if (!system.tank(tank.name) || tank.series.empty()) continue;
    const double end_s = tank.series.back().time_s;
    double lowest_m = tank.series.back().level_m;
    for (const Row& row : tank.series)
      if (row.time_s >= end_s - within_s) lowest_m = std::min(lowest_m, row.level_m);
    all.push_back({tank.name, lowest_m});
  }
  return all;
}

/// The last day of a run that came to its end.
TypicalDay day_at_end(const System& system, const FillHistory& history) {
  TypicalDay day;
  day.known = true;
  day.proved = history.record.empty() || history.proof.consistent;
  read_last_day(system, history, day);
  // Where float valves open every few days, long enough that each of them has opened.
  const double within_s = std::max(day_s, all_opened_within_s(history));
  day.lowest = lowest_at_last(system, history, within_s);
  day.moments = moments_of_day(system, history, within_s);
  return day;
}

/// How long a system has to be followed to see enough of the cycles in which its float valves open: tanks
/// that feed others sink while those fill, and rise again until the next time. Days that have become alike
/// stay so, however long ago a float valve has opened for the last time.
double long_enough_s(const System& system, const FillHistory& history, bool waits) {
  if (history.rest != RestKind::no) return longest_s;
  if (waits) return system.tanks().size() > 1 ? most_s : longest_s;
  const double cycle = cycle_s(history);
  if (cycle <= usual_cycle_s) return longest_s;
  return std::clamp(std::ceil(cycles_followed * cycle / day_s) * day_s, longest_s, most_s);
}

/// Where a tank that sinks comes to pass on what it gets: at its lowest mouth, or at its floor if something
/// is drawn from the tank itself.
Length drawn_down(const System& system, const network::Tank& tank) {
  const auto mouth = network::lowest_mouth(system.model(), tank);
  return mouth && tank.draws.empty() ? *mouth : tank.floor;
}

/// Whether more is drawn over the day than all springs give.
bool draws_more_than_comes(const System& system) {
  if (std::any_of(system.tanks().begin(), system.tanks().end(), [](const auto& tank) { return tank.held; }))
    return false;
  Flow comes;
  for (const network::Box& box : system.boxes()) comes += box.yield;
  return network::daily_mean_in_all(system.model()) > comes;
}

/// A tank that sinks for weeks and then passes on what it gets leaves nothing short: the days from then on,
/// if all is met on them. None if something is still short, or some tank sinks.
std::optional<TypicalDay> once_drawn_down(const System& system, const FillHistory& history, System begun,
                                          const FillOptions& options) {
  const std::vector<std::string> sinking = sinking_tanks(system, history);
  if (sinking.empty() || draws_more_than_comes(system)) return std::nullopt;
  for (const std::string& tank : sinking)
    begun = network::with_level(begun, tank, drawn_down(system, *system.tank(tank)));
  const FillHistory then = fill(begun, options);
  if (then.outcome != FillOutcome::done || then.duration_s < day_s) return std::nullopt;
  const TypicalDay day = day_at_end(system, then);
  const bool some_short =
      std::any_of(day.draws.begin(), day.draws.end(), [](const DrawnDay& draw) { return draw.is_short(); });
  return day.sinking.empty() && !some_short ? std::optional(day) : std::nullopt;
}

TypicalDay followed(const System& system) {
  FillOptions options{.tolerance = exact_enough, .most_s = longest_s, .work = patience_with_a_day};
  System begun = network::with_full_tanks(system);
  FillHistory history = fill(begun, options);
  const std::vector<std::string> waiting =
      history.outcome == FillOutcome::done ? waiting_for_floats(system, history) : std::vector<std::string>{};
  // The days after the float has opened tell whether enough comes.
  for (const network::Tank& tank : system.tanks())
    if (among(waiting, tank.name))
      begun = network::with_level(begun, tank.name, Length::metres(*opens_m(system, tank)));
  const double follow_s = long_enough_s(system, history, !waiting.empty());
  if (follow_s > longest_s) options.duration_s = options.most_s = follow_s;
  options.until_alike = true;
  if (follow_s > longest_s || !waiting.empty()) history = fill(begun, options);
  TypicalDay day;
  if (history.outcome != FillOutcome::done || history.duration_s < day_s)
    day.lost = HoursLost::levels;
  else if (auto later = once_drawn_down(system, history, begun, options))
    day = std::move(*later);
  else
    day = day_at_end(system, history);
  day.until_floats_open = waiting;
  return day;
}

/// What a joint or a tap gets at an instant.
double gets_m3s(const steady::Assembly& assembly, const DrawnPlace& place, const Instant& now) {
  if (place.kind == PlaceKind::outlet) {
    const int link = assembly.outlet_link[place.index];
    return link < 0 ? 0.0 : std::max(0.0, now.flow_m3s[static_cast<std::size_t>(link)]);
  }
  const auto node = static_cast<std::size_t>(assembly.nodes_of(PlaceKind::joint)[place.index]);
  const bool none = now.hold[node] == steady::Hold::draw_none || !(place.asked_m3s > 0.0);
  return none ? 0.0 : now.surplus_m3s[node];
}

/// Where nothing is stored, only the hour decides what each draw gets.
TypicalDay hour_by_hour(const System& system) {
  Basins basins(system, 0.0);
  TypicalDay day;
  for (const DrawnPlace& place : basins.drawn_places())
    day.draws.push_back({place.name, place.kind, 0.0, 0.0});
  const Eigen::VectorXd nothing;
  std::vector<Event> events;
  for (double now_s = 0.0, next_s = 0.0; now_s < day_s; now_s = next_s) {
    next_s = std::min(basins.next_change_s(now_s), day_s);
    basins.set_draws(now_s);
    if (!basins.settle(now_s, nothing, false, events)) {
      day.lost = HoursLost::flows;
      return day;
    }
    for (std::size_t p = 0; p < day.draws.size(); ++p) {
      const DrawnPlace& place = basins.drawn_places()[p];
      day.draws[p].asked_m3 += place.asked_m3s * (next_s - now_s);
      day.draws[p].given_m3 +=
          std::min(place.asked_m3s, gets_m3s(basins.field().assembly(), place, basins.probe())) *
          (next_s - now_s);
    }
  }
  std::erase_if(day.draws, [&](const DrawnDay& d) {
    const network::Outlet* tap = system.outlet(d.place);
    return tap && tap->shut;
  });
  day.known = true;
  return day;
}

bool nothing_stored(const System& system) {
  return system.tanks().empty() && std::none_of(system.boxes().begin(), system.boxes().end(),
                                                [](const network::Box& box) { return box.stores(); });
}

}  // namespace

TypicalDay typical_day(const System& system) {
  if (!(network::daily_mean_in_all(system.model()) > Flow{})) return {};
  return nothing_stored(system) ? hour_by_hour(system) : followed(system);
}

}  // namespace runnel::filling
