#include "runnel/verdict/climb.h"

#include <algorithm>
#include <vector>

#include "runnel/verdict/digging.h"
#include "runnel/verdict/runs_otherwise.h"

namespace runnel::verdict {
namespace {

using network::System;

constexpr double seen_higher_m = 1e-3;

using Points = std::vector<steady::LinePoint>;

/// How high water stands from one end of a line to shortly before the other, where the place beyond has water
/// of its own.
std::optional<double> highest_water(Points::const_iterator from, Points::const_iterator to) {
  std::optional<double> highest;
  for (; from != to; ++from)
    if (from->grade_m && (!highest || *from->grade_m > *highest)) highest = from->grade_m;
  return highest;
}

/// The tank that a line ends in, if its inlet or its water stands above the line.
const network::Tank* higher_end(const System& system, const network::Line& line, double than_m) {
  const network::Tank* tank = system.tank(system.place_name(line.to));
  return tank && std::max(tank->inlet, tank->level).metres() > than_m + seen_higher_m ? tank : nullptr;
}

/// Whether it runs with every tap shut: then what is drawn keeps the water before it low.
bool runs_with_taps_shut(const System& system, std::size_t line) {
  network::Model model = system.model();
  bool some = false;
  for (network::Outlet& tap : model.outlets) {
    some = some || !tap.shut;
    tap.shut = true;
  }
  return some && runs_in(model, line);
}

}  // namespace

std::optional<Climb> climb_of(const System& system, const steady::LineState& line) {
  const auto index = system.find_line(line.name);
  if (line.points.empty() || !index) return std::nullopt;
  const auto top = std::max_element(line.points.begin(), line.points.end(),
                                    [](auto& a, auto& b) { return a.elevation_m < b.elevation_m; });
  Climb climb{
      top->elevation_m, top->station_m, {}, highest_water(line.points.begin(), line.points.end() - 1)};
  const network::Tank* tank =
      higher_end(system, system.lines()[static_cast<std::size_t>(*index)], climb.to_m);
  if (tank) {
    climb.to_m = std::max(tank->inlet, tank->level).metres();
    climb.station_m = line.points.back().station_m;
    climb.into = tank->name;
  }
  if (!climb.water_m && !tank) climb.water_m = highest_water(line.points.begin(), line.points.end());
  if (!climb.water_m || *climb.water_m <= climb.to_m) return climb;
  // Drawn against its flow it is fed from its other end.
  climb = {top->elevation_m, top->station_m, {}, highest_water(line.points.begin() + 1, line.points.end())};
  if (climb.water_m && *climb.water_m > climb.to_m) climb.water_m.reset();
  return climb;
}

Sentence told(const std::optional<Climb>& climb) {
  Sentence s;
  if (!climb) return s.say("climbs to a high point");
  if (climb->into.empty())
    s.say("climbs to ")
        .figure(Kind::elevation, climb->to_m)
        .say(" at ")
        .figure(Kind::length, climb->station_m);
  else
    s.say("would have to rise to ").figure(Kind::elevation, climb->to_m).say(" in ").name(climb->into);
  if (climb->water_m)
    s.say(" and the water before it stands no higher than ").figure(Kind::elevation, *climb->water_m);
  return s;
}

Sentence let_it_pass(const System& system, const steady::LineState& line, const std::optional<Climb>& climb) {
  const auto index = system.find_line(line.name);
  if (index && runs_with_taps_shut(system, static_cast<std::size_t>(*index)))
    return Sentence().say(
        "Throttle the taps that take the water before it, lay larger pipe up to it, or set its end lower.");
  if (climb && !climb->into.empty())
    return Sentence()
        .say("Set ")
        .name(climb->into)
        .say(" lower, or see that the water before it stands higher.");
  if (climb && climb->station_m >= line.points.back().station_m)
    return Sentence().say("Set the end of the line lower, or see that the water before it stands higher.");
  if (climb && climb->water_m && climb->to_m - *climb->water_m > most_dug_m)
    return Sentence().say("Nobody digs so deep: go round it, or see that the water before it stands higher.");
  return Sentence().say(
      "Dig the line down there, go round it, or see that the water before it stands higher.");
}

}  // namespace runnel::verdict
