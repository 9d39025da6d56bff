#include "runnel/filling/year_taps.h"

#include <algorithm>
#include <numeric>

#include "runnel/network/change.h"
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

void weigh(YearPart& part) {
  LeftRunning& running = *part.running;
  if (std::all_of(running.taken_m3s.begin(), running.taken_m3s.end(), [](double q) { return q == 0.0; })) {
    part.running.reset();
    return;
  }
  Season season = part.season;
  for (std::size_t p = 0; p < season.demand_m3s.size(); ++p) season.demand_m3s[p] += running.taken_m3s[p];
  running.need = storage_need(season);
  running.coverage = coverage(season, part.capacity_m3);
  if (running.coverage.dry_days() > 0.0)
    running.first_dry = period_at(season.length_s, running.coverage.first_dry_years);
}

}  // namespace

void leave_taps_running(const System& system, const std::vector<std::vector<double>>& yields_m3s,
                        std::vector<YearPart>& parts) {
  for (YearPart& part : parts)
    part.running = LeftRunning{std::vector<double>(system.year()->periods()), {}, {}, {}};
  for (std::size_t p = 0; p < system.year()->periods(); ++p) {
    std::vector<Flow> yields;
    for (const auto& y : yields_m3s) yields.push_back(Flow::from_si(y[p]));
    take_period(system, yields, p, parts);
  }
  for (YearPart& part : parts) weigh(part);
}

}  // namespace runnel::filling
