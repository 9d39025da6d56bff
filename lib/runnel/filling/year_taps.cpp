#include "runnel/filling/year_taps.h"

#include <algorithm>
#include <numeric>

#include "runnel/network/change.h"
#include "runnel/network/floats.h"
#include "runnel/network/mouths.h"
#include "runnel/network/no_flow.h"
#include "runnel/steady/state.h"

namespace runnel::filling {
namespace {

using network::System;

std::vector<std::string> told_in_full(const network::Year& year) {
  std::vector<std::string> tanks;
  for (const network::Year::Row& row : year.demands) tanks.push_back(row.place);
  return tanks;
}

/// The flow that leaves a part at its taps and draws, and over the lips of boxes without a spring.
double leaves_m3s(const System& system, const steady::State& state, const YearPart& part) {
  double sum_m3s = 0.0;
  for (const int place : part.places) {
    const network::PlaceRef at = system.place(place);
    const auto index = static_cast<std::size_t>(at.index);
    if (at.kind == network::PlaceKind::outlet) sum_m3s += state.outlets[index].flow_m3s;
    if (at.kind == network::PlaceKind::joint) sum_m3s += state.joints[index].draw_given_m3s;
    if (at.kind == network::PlaceKind::box && !(system.boxes()[index].yield.si() > 0.0))
      sum_m3s += state.boxes[index].spill_m3s;
  }
  return sum_m3s;
}

/// Whether a tank takes what comes until it runs over. One that is joined to another at the bottom stands as
/// high as that.
bool runs_over(const System& system, const network::Tank& tank) {
  return !tank.held && !network::enters_low(tank) && network::floats_of(system.model(), tank).empty();
}

/// What tanks of a part get out of other tanks and no float valve shuts, over what is drawn from them.
double spilled_m3s(const System& system, const steady::State& open, const steady::State& shut,
                   std::size_t period, YearPart& part) {
  double sum_m3s = 0.0;
  for (const PlaceYear& place : part.drawn) {
    const network::Tank* tank = system.tank(place.place);
    if (!tank || !runs_over(system, *tank)) continue;
    const auto t = static_cast<std::size_t>(system.place(place.place).index);
    const double more_m3s =
        open.tanks[t].inflow_m3s - std::max(0.0, shut.tanks[t].inflow_m3s) - place.demand_m3s[period];
    if (!(more_m3s > network::no_flow_m3s)) continue;
    sum_m3s += more_m3s;
    if (std::find(part.spill_at.begin(), part.spill_at.end(), tank->name) == part.spill_at.end())
      part.spill_at.push_back(tank->name);
  }
  return sum_m3s;
}

void take_period(const System& system, const std::vector<Flow>& yields, std::size_t period,
                 std::vector<YearPart>& parts) {
  const steady::State shut = steady::solve(network::with_tanks_receiving(system, yields));
  const steady::State open =
      steady::solve(network::with_tanks_full(system, yields, told_in_full(*system.year())));
  const bool settled = shut.outcome == steady::Outcome::settled && open.outcome == steady::Outcome::settled;
  for (YearPart& part : parts) {
    if (!settled && !part.unsettled) part.unsettled = period;
    if (!settled) continue;
    const double taken_m3s = leaves_m3s(system, open, part) - leaves_m3s(system, shut, part);
    part.running->taken_m3s[period] = taken_m3s > network::no_flow_m3s ? taken_m3s : 0.0;
    part.spilling->taken_m3s[period] = spilled_m3s(system, open, shut, period, part);
  }
}

/// The period in which a time from the start of a year lies.
std::size_t period_at(const std::vector<double>& lengths_s, double years) {
  const double year_s = std::accumulate(lengths_s.begin(), lengths_s.end(), 0.0);
  double left_s = (years - static_cast<double>(static_cast<long>(years))) * year_s;
  std::size_t period = 0;
  while (period + 1 < lengths_s.size() && left_s >= lengths_s[period]) left_s -= lengths_s[period++];
  return period;
}

void weigh(const YearPart& part, std::optional<LeftRunning>& taken) {
  const auto& taken_m3s = taken->taken_m3s;
  if (std::all_of(taken_m3s.begin(), taken_m3s.end(), [](double q) { return q == 0.0; })) {
    taken.reset();
    return;
  }
  Season season = part.season;
  for (std::size_t p = 0; p < season.demand_m3s.size(); ++p) season.demand_m3s[p] += taken_m3s[p];
  taken->need = storage_need(season);
  taken->coverage = coverage(season, part.capacity_m3);
  if (taken->coverage.dry_days() > 0.0)
    taken->first_dry = period_at(season.length_s, taken->coverage.first_dry_years);
}

/// Whether a line leads out of a tank to one of those, over joints and boxes.
bool feeds(const System& system, int tank, const std::vector<std::string>& others) {
  std::vector<int> reached{tank};
  for (std::size_t next = 0; next < reached.size(); ++next)
    for (const int l : system.lines_at(reached[next])) {
      const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
      if (line.from != reached[next] || std::find(reached.begin(), reached.end(), line.to) != reached.end())
        continue;
      if (std::find(others.begin(), others.end(), system.place_name(line.to)) != others.end()) return true;
      if (!system.tank(line.to)) reached.push_back(line.to);
    }
  return false;
}

/// Once what stood above them has run away, tanks that run over still get what the springs bring, and keep
/// their own store: where that is enough nothing is missing.
void spare_what_still_comes(const System& system, YearPart& part) {
  if (!part.spilling || !part.spilling->first_dry) return;
  double left_m3 = part.capacity_m3;
  for (const PlaceYear& place : part.drawn)
    if (system.tank(place.place) && feeds(system, place.place, part.spill_at)) left_m3 -= place.capacity_m3;
  if (coverage(part.season, std::max(0.0, left_m3)).dry_days() == 0.0) part.spilling->first_dry.reset();
}

}  // namespace

void leave_taps_running(const System& system, const std::vector<std::vector<double>>& yields_m3s,
                        std::vector<YearPart>& parts) {
  for (YearPart& part : parts)
    part.running = part.spilling = LeftRunning{std::vector<double>(system.year()->periods()), {}, {}, {}};
  for (std::size_t p = 0; p < system.year()->periods(); ++p) {
    std::vector<Flow> yields;
    for (const auto& y : yields_m3s) yields.push_back(Flow::from_si(y[p]));
    take_period(system, yields, p, parts);
  }
  for (YearPart& part : parts) {
    weigh(part, part.running);
    weigh(part, part.spilling);
    spare_what_still_comes(system, part);
  }
}

}  // namespace runnel::filling
