#include "runnel/air/path.h"

#include <algorithm>
#include <cstddef>
#include <map>

namespace runnel::air {
namespace {

using network::PartKind;
using network::PlaceKind;
using network::System;

struct Way {
  const network::Pipeline* line;
  bool reversed;
  std::string to;
};
using Ways = std::map<std::string, std::vector<Way>>;

bool has_check_valve(const network::Pipeline& line) {
  return std::any_of(line.parts.begin(), line.parts.end(),
                     [](const network::Part& p) { return p.kind == PartKind::check_valve; });
}

bool is_shut(const network::Pipeline& line) {
  return std::any_of(line.parts.begin(), line.parts.end(),
                     [](const network::Part& p) { return p.kind == PartKind::valve && p.open <= 0.0; });
}

Ways ways_of(const System& system) {
  Ways ways;
  for (const network::Pipeline& line : system.pipelines) {
    if (is_shut(line)) continue;
    ways[line.from].push_back({&line, false, line.to});
    if (!has_check_valve(line)) ways[line.to].push_back({&line, true, line.from});
  }
  return ways;
}

struct Source {
  std::string name;
  double level_m;
};

std::vector<Source> sources_of(const System& system) {
  std::vector<Source> sources;
  for (const network::Box& box : system.boxes) sources.push_back({box.name, box.lip.metres()});
  for (const network::Tank& tank : system.tanks) sources.push_back({tank.name, tank.level.metres()});
  return sources;
}

double end_elevation_m(const PathLeg& leg) {
  return (leg.reversed ? leg.line->start_elevation() : leg.line->end_elevation()).metres();
}

/// Taps on a joint: the lowest open one is where the water first comes out.
std::optional<double> lowest_tap_m(const System& system, const std::string& joint) {
  std::optional<double> lowest;
  for (const network::Outlet& outlet : system.outlets)
    if (outlet.on == joint && !outlet.shut)
      lowest = lowest ? std::min(*lowest, outlet.elevation.metres()) : outlet.elevation.metres();
  return lowest;
}

/// Level over the end of the last pipe at a place where water can come out; nothing at all if none can.
struct Ending {
  bool ends = false;
  std::optional<double> level_m;
};

Ending ending_at(const System& system, const std::string& place) {
  if (const network::Box* box = system.box(place)) return {true, box->lip.metres()};
  if (const network::Tank* tank = system.tank(place)) return {true, tank->level.metres()};
  if (const network::Outlet* outlet = system.outlet(place)) return {!outlet->shut, std::nullopt};
  if (const auto tap_m = lowest_tap_m(system, place)) return {true, tap_m};
  const network::Joint* joint = system.joint(place);
  return {joint && joint->draw.si() > 0.0, std::nullopt};
}

bool goes_on(const System& system, const std::string& place) {
  return system.place_kind(place) == PlaceKind::joint;
}

void add_path(std::vector<Path>& found, const System& system, const Source& source, const std::string& end,
              std::vector<PathLeg> legs) {
  const Ending ending = ending_at(system, end);
  if (!ending.ends) return;
  Path path{source.name, end, std::move(legs), source.level_m, std::nullopt};
  const double end_m = end_elevation_m(path.legs.back());
  if (ending.level_m && *ending.level_m > end_m) path.end_level_m = ending.level_m;
  const bool as_drawn =
      std::none_of(path.legs.begin(), path.legs.end(), [](const PathLeg& l) { return l.reversed; });
  if (as_drawn || path.end_level_m.value_or(end_m) < source.level_m) found.push_back(std::move(path));
}

/// Breadth first, so that the first way found to a place has the fewest pipelines.
void paths_from(std::vector<Path>& found, const System& system, const Ways& ways, const Source& source) {
  struct Reached {
    std::string place;
    std::size_t before;  // index into the queue
    PathLeg leg;
  };
  std::vector<Reached> queue{{source.name, 0, {}}};
  std::map<std::string, bool> seen{{source.name, true}};
  for (std::size_t i = 0; i < queue.size(); ++i) {
    const std::string place = queue[i].place;
    if (i > 0) {
      std::vector<PathLeg> legs;
      for (std::size_t k = i; k > 0; k = queue[k].before) legs.push_back(queue[k].leg);
      std::reverse(legs.begin(), legs.end());
      add_path(found, system, source, place, std::move(legs));
    }
    const auto on = ways.find(place);
    if (on == ways.end() || (i > 0 && !goes_on(system, place))) continue;
    for (const Way& way : on->second)
      if (!seen[way.to]) {
        seen[way.to] = true;
        queue.push_back({way.to, i, {way.line, way.reversed}});
      }
  }
}

}  // namespace

std::vector<Path> paths(const System& system) {
  std::vector<Path> found;
  const Ways ways = ways_of(system);
  for (const Source& source : sources_of(system)) paths_from(found, system, ways, source);
  return found;
}

Profile profile_of(const Path& path) { return profile_of(path.legs); }

StartConditions conditions_of(const Path& path, const network::Site& site) {
  return {site.atmospheric_head_m(), path.source_level_m, path.end_level_m, {}};
}

}  // namespace runnel::air
