#include "runnel/verdict/shutting.h"

#include <algorithm>

namespace runnel::verdict {
namespace {

constexpr double no_flow_m3s = 1e-12, tolerance_m = 1e-6;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool is_valve(const network::FittedPart& part) { return part.kind == network::PartKind::valve; }

}  // namespace

Shutting::Shutting(const network::System& system, const steady::State& state) : system_(system) {
  const std::size_t lines = system.lines().size();
  forward_.assign(lines, 1);
  running_.assign(lines, 0);
  asked_.assign(lines, 0);
  stands_.resize(lines);
  for (std::size_t l = 0; l < lines && l < state.lines.size(); ++l) {
    forward_[l] = state.lines[l].flow_m3s >= 0.0;
    running_[l] = state.lines[l].flow_m3s > no_flow_m3s || state.lines[l].flow_m3s < -no_flow_m3s;
  }
  for (std::size_t l = 0; l < lines; ++l) {
    const network::Line& line = system.lines()[l];
    const double first_m = line.course.first_m(), last_m = line.course.last_m();
    Stretch& stands = stands_[l];
    if (place_shuts(forward_[l] ? line.to : line.from, static_cast<int>(l))) {
      stands = {first_m, last_m};
      continue;
    }
    for (const network::FittedPart& part : line.parts) {
      if (!is_valve(part)) continue;
      if (forward_[l])
        stands = {first_m, std::max(stands.to_m, part.at.metres())};
      else
        stands = {std::min(stands.from_m, part.at.metres()), last_m};
    }
  }
}

bool Shutting::can_stand(int line, double station_m) const {
  const Stretch& s = stands_[at(line)];
  return station_m >= s.from_m - tolerance_m && station_m <= s.to_m + tolerance_m;
}

bool Shutting::never_stands(int line) const { return !(stands_[at(line)].from_m <= stands_[at(line)].to_m); }

/// Nothing need run out at a place by any other line than the one it came by.
bool Shutting::place_shuts(int place, int came_by) {
  if (const network::Outlet* outlet = system_.outlet(place))
    return outlet->shut || outlet->opening.metres() > 0.0;
  if (const network::Tank* tank = system_.tank(place)) return tank->float_valve.has_value();
  if (system_.box(place)) return false;
  for (std::size_t o = 0; o < system_.outlets().size(); ++o)
    if (system_.hangs_on(static_cast<int>(o)) == place &&
        !place_shuts(system_.outlet_place(static_cast<int>(o)), -1))
      return false;
  asked_[at(came_by)] = 1;
  bool all = true;
  for (const int l : system_.lines_at(place))
    if (l != came_by && !asked_[at(l)] && !line_stops(l, place)) all = false;
  asked_[at(came_by)] = 0;
  return all;
}

bool Shutting::line_stops(int l, int entered_at) {
  const network::Line& line = system_.lines()[at(l)];
  const int start = forward_[at(l)] ? line.from : line.to;
  if (running_[at(l)] && start != entered_at) return true;  // it brings water, it does not take it away
  if (std::any_of(line.parts.begin(), line.parts.end(), is_valve)) return true;
  return place_shuts(line.from == entered_at ? line.to : line.from, l);
}

}  // namespace runnel::verdict
