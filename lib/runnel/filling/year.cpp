#include "runnel/filling/year.h"

#include <algorithm>
#include <limits>
#include <map>

#include "runnel/filling/draws.h"
#include "runnel/filling/tank_curve.h"
#include "runnel/filling/typical_day.h"
#include "runnel/filling/year_runs.h"
#include "runnel/filling/year_taps.h"
#include "runnel/filling/year_ways.h"
#include "runnel/network/change.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/springs/recession.h"
#include "runnel/steady/state.h"

namespace runnel::filling {
namespace {

using network::System;
using network::Year;

/// Groups the places that lines join: `root` is the same for all places of a group.
class Joined {
 public:
  explicit Joined(const System& system) : above_(static_cast<std::size_t>(system.places()), -1) {
    for (const network::Line& line : system.lines()) {
      const int from = root(line.from), to = root(line.to);
      if (from != to) above_[static_cast<std::size_t>(from)] = to;
    }
  }
  int root(int place) const {
    while (above_[static_cast<std::size_t>(place)] >= 0) place = above_[static_cast<std::size_t>(place)];
    return place;
  }

 private:
  std::vector<int> above_;
};

/// The flows in the row of a place; without one, `otherwise_m3s` all year.
std::vector<double> flows_of(const std::vector<Year::Row>& rows, const std::string& place,
                             double otherwise_m3s, std::size_t periods) {
  const auto row =
      std::find_if(rows.begin(), rows.end(), [&](const Year::Row& r) { return r.place == place; });
  if (row == rows.end()) return std::vector<double>(periods, otherwise_m3s);
  std::vector<double> flows;
  for (const Flow flow : row->flows) flows.push_back(flow.cubic_metres_per_second());
  return flows;
}

/// Whether the yield is given as one that falls, and not period by period.
bool falls(const network::Box& box, const Year& year) {
  const auto told = [&](const Year::Row& row) { return row.place == box.name; };
  return box.history.halves_in && box.history.measured &&
         std::none_of(year.yields.begin(), year.yields.end(), told);
}

/// The yield of each period: up to the day when it was measured it counts as measured, from there to the end
/// of the year as the mean of its recession.
std::vector<double> falling_m3s(const network::Box& box, const std::vector<double>& lengths_s) {
  const springs::Recession recession = springs::recession_from_half_life(box.yield, *box.history.halves_in);
  const std::chrono::year_month_day date{*box.history.measured};
  const auto new_year = std::chrono::sys_days{date.year() / std::chrono::January / 1};
  const double measured_s = day_s * static_cast<double>((*box.history.measured - new_year).count());
  std::vector<double> flows;
  double from_s = 0.0;
  for (const double length_s : lengths_s) {
    const double to_s = from_s + length_s, falls_from_s = std::clamp(measured_s, from_s, to_s);
    const auto then = [&](double s) { return recession.after(Duration::seconds(s - measured_s)).si(); };
    double volume_m3 = box.yield.si() * (falls_from_s - from_s);
    // The integral of an exponential is its fall over its rate.
    if (to_s > falls_from_s) volume_m3 += (then(falls_from_s) - then(to_s)) * day_s / recession.per_day;
    flows.push_back(volume_m3 / length_s);
    from_s = to_s;
  }
  return flows;
}

std::vector<double> yields_of(const network::Box& box, const Year& year) {
  if (falls(box, year)) return falling_m3s(box, year_lengths_s(year.periods()));
  return flows_of(year.yields, box.name, box.yield.cubic_metres_per_second(), year.periods());
}

void add(std::vector<double>& sum, const std::vector<double>& more) {
  for (std::size_t p = 0; p < sum.size(); ++p) sum[p] += more[p];
}

/// Whether a line that is drawn from a tank brings it water: at its other end is a spring whose water stands
/// higher than that of the tank ever does.
bool drawn_to_a_spring(const System& system, const network::Line& line, const network::Tank& tank) {
  const network::PlaceRef end = system.place(line.to);
  if (end.kind != network::PlaceKind::box) return false;
  const network::Box& box = system.boxes()[static_cast<std::size_t>(end.index)];
  return box.yield.si() > 0.0 && box.lip > tank.lip;
}

/// The level down to which a tank gives: its floor if anything is drawn from the tank itself, otherwise the
/// lowest at which some line that leads away still takes water in and lets it over its highest point. A
/// sealed line can draw over that.
Length gives_down_to(const System& system, int place) {
  const network::Tank& tank = *system.tank(place);
  std::optional<Length> lowest;
  for (const int l : system.lines_at(place)) {
    const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
    if (line.from != place || drawn_to_a_spring(system, line, tank)) continue;
    Length needs = line.start_elevation();
    if (line.air == network::Air::open)
      for (const network::SurveyPoint& point : line.survey) needs = std::max(needs, point.elevation);
    lowest = std::min(lowest.value_or(needs), needs);
  }
  const bool drawn = network::daily_mean(tank.draws).si() > 0.0;
  return drawn || !lowest ? tank.floor : std::max(tank.floor, *lowest);
}

double capacity_m3(const System& system, int place) {
  const network::Tank& tank = *system.tank(place);
  const Length top = network::full_level(system.model(), tank);
  const TankCurve curve(tank.shape);
  const double dead_m3 = curve.volume_m3((gives_down_to(system, place) - tank.floor).metres());
  return std::max(0.0, curve.volume_m3((top - tank.floor).metres()) - dead_m3);
}

void take_tank(YearPart& part, const System& system, int place, const Year& year) {
  const network::Tank& tank = *system.tank(place);
  part.tanks.push_back(tank.name);
  const double draws_m3s = network::daily_mean(tank.draws).si();
  const std::size_t periods = part.season.length_s.size();
  part.drawn.push_back({place, capacity_m3(system, place),
                        flows_of(year.demands, tank.name, draws_m3s, periods), std::vector<double>(periods)});
  part.capacity_m3 += part.drawn.back().capacity_m3;
  add(part.season.demand_m3s, part.drawn.back().demand_m3s);
}

void take_box(YearPart& part, const network::Box& box, const Year& year,
              const std::vector<double>& yield_m3s) {
  part.boxes.push_back(box.name);
  add(part.springs_m3s, yield_m3s);
  if (box.bucket_tests && !box.bucket_tests->times.empty())
    part.measured.push_back(
        {box.name, springs::bucket_yield(box.bucket_tests->volume, box.bucket_tests->times)});
  if (falls(box, year)) part.falling.push_back(box.name);
  if (box.history.years.empty() && !box.history.yearly_spread) return;
  part.years.push_back({.box = box.name,
                        .least = Flow::from_si(*std::min_element(yield_m3s.begin(), yield_m3s.end())),
                        .need = std::nullopt,
                        .spread = box.history.yearly_spread,
                        .years = box.history.years.size(),
                        .dry = std::nullopt});
}

/// Adds what is drawn by the hour at taps and joints to the demand of their part, all year.
void take_taps(const System& system, const Joined& joined, const std::map<int, std::size_t>& part_at,
               std::vector<YearPart>& parts) {
  const auto take = [&](int place, const std::vector<network::Draw>& draws) {
    const auto at = part_at.find(joined.root(place));
    if (draws.empty() || at == part_at.end()) return;
    YearPart& part = parts[at->second];
    const std::size_t periods = part.season.demand_m3s.size();
    part.drawn.push_back({place, 0.0, std::vector<double>(periods, network::daily_mean(draws).si()), {}});
    add(part.season.demand_m3s, part.drawn.back().demand_m3s);
  };
  for (std::size_t o = 0; o < system.outlets().size(); ++o) {
    const network::Outlet& outlet = system.outlets()[o];
    const int on = system.hangs_on(static_cast<int>(o));
    if (!outlet.shut) take(on < 0 ? system.outlet_place(static_cast<int>(o)) : on, outlet.draws);
  }
  for (std::size_t j = 0; j < system.joints().size(); ++j)
    take(system.joint_place(static_cast<int>(j)), system.joints()[j].draws);
}

void note_inflows(const System& system, const steady::State& state, std::size_t period, YearPart& part) {
  for (PlaceYear& drawn : part.drawn)
    if (system.tank(drawn.place))
      drawn.inflow_m3s[period] = std::max(0.0, state.place(system.place_name(drawn.place))->inflow_m3s);
}

/// Finds what comes to the tanks of every part in one period. A part in which nothing is lost gets exactly
/// what its springs give, without the rounding of the solver.
void bring_water(const System& system, const PeriodRuns& runs,
                 const std::vector<std::vector<double>>& yields_m3s, std::size_t period,
                 std::vector<YearPart>& parts) {
  constexpr double rounding = 1e-9;  // the solver closes balances of water to 1e-10 of all flow
  std::vector<Flow> yields;
  for (const std::vector<double>& y : yields_m3s) yields.push_back(Flow::from_si(y[period]));
  const std::vector<steady::State> states = runs(network::with_tanks_receiving(system, yields));
  const bool settled = !states.empty() && std::all_of(states.begin(), states.end(), [](const auto& state) {
    return state.outcome == steady::Outcome::settled;
  });
  for (YearPart& part : parts) {
    const double springs_m3s = part.springs_m3s[period];
    if (!settled) {
      if (!part.unsettled) part.unsettled = period;
      continue;
    }
    double reach_m3s = std::numeric_limits<double>::infinity();
    for (const steady::State& state : states) {
      double here_m3s = 0.0;
      for (const std::string& tank : part.tanks) here_m3s += std::max(0.0, state.place(tank)->inflow_m3s);
      if (here_m3s < reach_m3s) note_inflows(system, state, period, part);
      reach_m3s = std::min(reach_m3s, here_m3s);
    }
    const bool all = reach_m3s >= springs_m3s * (1.0 - rounding);
    part.season.yield_m3s[period] = all ? springs_m3s : reach_m3s;
  }
}

/// The whole year, with springs that give `times` as much.
void bring_year(const System& system, const PeriodRuns& runs, std::vector<std::vector<double>> yields_m3s,
                double times, std::vector<YearPart>& parts) {
  for (auto& flows : yields_m3s)
    for (double& flow : flows) flow *= times;
  for (YearPart& part : parts)
    for (double& flow : part.springs_m3s) flow *= times;
  for (std::size_t p = 0; p < system.year()->periods(); ++p) bring_water(system, runs, yields_m3s, p, parts);
  for (YearPart& part : parts) {
    part.need = storage_need(part.season);
    part.coverage = coverage(part.season, part.capacity_m3);
    cut_year(system, runs, yields_m3s, part);
  }
}

/// The least share of this year's yields with which a part still lasts; none if many times are not enough.
std::optional<double> least_share(const System& system, const PeriodRuns& runs,
                                  const std::vector<std::vector<double>>& yields_m3s,
                                  const std::vector<YearPart>& parts, std::size_t part) {
  constexpr double most = 64.0, digits = 1e-6;
  const auto lasts = [&](double share) {
    std::vector<YearPart> tried = parts;
    bring_year(system, runs, yields_m3s, share, tried);
    return tried[part].lasts();
  };
  double low = 0.0, high = 1.0;
  if (lasts(low)) return low;
  while (!lasts(high)) {
    low = std::exchange(high, 2.0 * high);
    if (high > most) return std::nullopt;
  }
  while (high - low > digits * high) (lasts(0.5 * (low + high)) ? high : low) = 0.5 * (low + high);
  return high;
}

std::optional<springs::DryYear> chance_of(const network::SpringHistory& history, Flow least, Flow need) {
  std::vector<Flow> years;
  for (const auto& year : history.years) years.push_back(year.least);
  if (!history.yearly_spread) return springs::dry_year(years, need);
  // A spread needs at least one year to lie about; without others that is the year looked at.
  if (years.empty()) years.push_back(least);
  return springs::dry_year(years, springs::log_spread_of_share(*history.yearly_spread), need);
}

void look_at_years(const System& system, const PeriodRuns& runs,
                   const std::vector<std::vector<double>>& yields_m3s, std::vector<YearPart>& parts) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].years.empty() || parts[i].unsettled) continue;
    const std::optional<double> share = least_share(system, runs, yields_m3s, parts, i);
    for (SpringYears& known : parts[i].years) {
      if (!share) continue;
      known.need = known.least * *share;
      if (known.need->si() > 0.0)
        known.dry = chance_of(system.box(known.box)->history, known.least, *known.need);
    }
  }
}

/// Where not all of a part lasts, it is told of those tanks alone that run dry.
void tell_where_short(YearPart& part) {
  if (!part.short_of) return;
  const Cut& cut = *part.short_of;
  part.tanks = cut.tanks.empty() ? std::vector<std::string>{cut.drawn_at} : cut.tanks;
  part.boxes = cut.boxes;
  part.season = cut.season;
  part.springs_m3s = cut.season.yield_m3s;
  part.capacity_m3 = cut.capacity_m3;
  part.need = cut.need;
  part.coverage = cut.coverage;
  part.running.reset();
  part.spilling.reset();
}

}  // namespace

std::vector<YearPart> look_at_year(const System& system) {
  return look_at_year(system,
                      [](const System& period) { return std::vector<steady::State>{steady::solve(period)}; });
}

std::vector<YearPart> look_at_year(const System& system, const PeriodRuns& runs) {
  const Year& year = *system.year();
  const Joined joined(system);
  std::vector<YearPart> parts;
  std::map<int, std::size_t> part_at;
  int place = system.tank_place(0);
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    const int here = place++;
    const auto [at, fresh] = part_at.try_emplace(joined.root(here), parts.size());
    if (fresh) {
      const std::size_t n = year.periods();
      parts.push_back({});
      parts.back().season = {year_lengths_s(n), std::vector<double>(n), std::vector<double>(n)};
      parts.back().springs_m3s.resize(n);
    }
    take_tank(parts[at->second], system, here, year);
  }
  place = system.box_place(0);
  std::vector<std::vector<double>> yields_m3s;
  for (const network::Box& box : system.boxes()) {
    yields_m3s.push_back(yields_of(box, year));
    const auto at = part_at.find(joined.root(place++));
    if (at != part_at.end()) take_box(parts[at->second], box, year, yields_m3s.back());
  }
  take_taps(system, joined, part_at, parts);
  bring_year(system, runs, yields_m3s, 1.0, parts);
  for (place = 0; place < system.places(); ++place) {
    const network::PlaceRef ref = system.place(place);
    const int on = ref.kind == network::PlaceKind::outlet ? system.hangs_on(ref.index) : -1;
    if (const auto at = part_at.find(joined.root(on < 0 ? place : on)); at != part_at.end())
      parts[at->second].places.push_back(place);
  }
  leave_taps_running(system, yields_m3s, parts);
  look_at_years(system, runs, yields_m3s, parts);
  for (YearPart& part : parts) tell_where_short(part);
  return parts;
}

void look_at_hours(const System& system, std::vector<YearPart>& parts) {
  constexpr double met_share = 1e-3;  // shortfalls below this share are the accuracy of the run
  const TypicalDay day = typical_day(system);
  for (YearPart& part : parts) {
    part.short_unknown = day.lost.has_value();
    if (!day.sinking.empty() && part.holds(system.find_place(day.sinking))) part.short_at = day.sinking;
    for (const DrawnDay& draw : day.draws)
      if (part.short_at.empty() && draw.share_short() > met_share &&
          part.holds(system.find_place(draw.place)))
        part.short_at = draw.place;
  }
}

}  // namespace runnel::filling
