#include "runnel/verdict/shutting.h"

#include <algorithm>

#include "runnel/base/index.h"
#include "runnel/network/floats.h"

namespace runnel::verdict {
namespace {

using network::System;

constexpr double tolerance_m = 1e-6;

bool is_valve(const network::FittedPart& part) { return part.kind == network::PartKind::valve; }

/// Whether nothing can be shut at an end.
bool always_open(const System& system, int place) {
  if (const network::Outlet* outlet = system.outlet(place))
    return !outlet->shut && !(outlet->opening.metres() > 0.0);
  if (const network::Tank* tank = system.tank(place))
    return network::full_level(system.model(), *tank) == tank->lip;
  return system.box(place) != nullptr;
}

/// The place to which each line's flow leads.
std::vector<int> far_ends(const System& system, const steady::State& state) {
  std::vector<int> ends;
  for (std::size_t l = 0; l < system.lines().size(); ++l) {
    const bool back = l < state.lines.size() && state.lines[l].flow_m3s < 0.0;
    ends.push_back(back ? system.lines()[l].from : system.lines()[l].to);
  }
  return ends;
}

/// Places from which water always finds a way out that nothing can shut: followed upstream from the open
/// ends, over lines without a valve.
std::vector<char> running_out(const System& system, const std::vector<int>& far_end) {
  std::vector<char> out(at(system.places()), 0);
  std::vector<int> todo;
  for (int place = 0; place < system.places(); ++place)
    if (always_open(system, place)) {
      out[at(place)] = 1;
      todo.push_back(place);
    }
  while (!todo.empty()) {
    const int place = todo.back();
    todo.pop_back();
    for (const int l : system.lines_at(place)) {
      const network::Line& line = system.lines()[at(l)];
      if (far_end[at(l)] != place || std::any_of(line.parts.begin(), line.parts.end(), is_valve)) continue;
      const int before = line.from == place ? line.to : line.from;
      if (out[at(before)]) continue;
      out[at(before)] = 1;
      todo.push_back(before);
    }
  }
  return out;
}

}  // namespace

Shutting::Shutting(const System& system, const steady::State& state) : stands_(system.lines().size()) {
  const std::vector<int> far_end = far_ends(system, state);
  const std::vector<char> out = running_out(system, far_end);
  for (std::size_t l = 0; l < system.lines().size(); ++l) {
    const network::Line& line = system.lines()[l];
    const double first_m = line.course.first_m(), last_m = line.course.last_m();
    Stretch& stands = stands_[l];
    if (!out[at(far_end[l])]) {
      stands = {first_m, last_m};
      continue;
    }
    for (const network::FittedPart& part : line.parts) {
      if (!is_valve(part)) continue;
      if (far_end[l] == line.to)
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

}  // namespace runnel::verdict
