#include "runnel/air/path.h"

#include <algorithm>
#include <cstddef>
#include <unordered_set>

#include "runnel/base/index.h"
#include "runnel/network/check_valves.h"

namespace runnel::air {
namespace {

using network::PartKind;
using network::System;

struct Onward {
  const network::Line* line;
  bool reversed;
  int to;
};
using Ways = std::vector<std::vector<Onward>>;  // one entry a place

bool is_shut(const network::Line& line) {
  return std::any_of(line.parts.begin(), line.parts.end(),
                     [](const network::Part& p) { return p.kind == PartKind::valve && p.open <= 0.0; });
}

/// Whether water may run back through a line; neither a check valve nor a float valve at its end allows that.
bool lets_back(const network::Line& line) { return !network::has_check_valve(line) && !line.float_valve; }

Ways ways_of(const System& system) {
  Ways ways(at(system.places()));
  for (const network::Line& line : system.lines()) {
    if (is_shut(line)) continue;
    ways[at(line.from)].push_back({&line, false, line.to});
    if (lets_back(line)) ways[at(line.to)].push_back({&line, true, line.from});
  }
  return ways;
}

struct Source {
  int place;
  double level_m;
};

std::vector<Source> sources_of(const System& system) {
  std::vector<Source> sources;
  int place = 0;
  for (const network::Box& box : system.boxes()) sources.push_back({place++, box.lip.metres()});
  for (const network::Tank& tank : system.tanks()) sources.push_back({place++, tank.level.metres()});
  return sources;
}

double end_elevation_m(const PathLeg& leg) {
  return (leg.reversed ? leg.line->start_elevation() : leg.line->end_elevation()).metres();
}

/// Whether water can come out at a place, and the level over the end of the last pipe there, if there is one.
struct Ending {
  bool ends = false;
  std::optional<double> level_m;
  bool stands = false;  // already before any water comes
};
using Endings = std::vector<Ending>;  // one a place

Endings endings_of(const System& system) {
  Endings endings(at(system.places()));
  for (std::size_t j = 0; j < system.joints().size(); ++j)
    endings[at(system.joint_place(static_cast<int>(j)))].ends = system.joints()[j].draw.si() > 0.0;
  for (const Source& source : sources_of(system)) endings[at(source.place)] = {true, source.level_m, true};
  for (std::size_t o = 0; o < system.outlets().size(); ++o) {
    const network::Outlet& outlet = system.outlets()[o];
    const int on = system.hangs_on(static_cast<int>(o));
    if (outlet.shut) continue;
    if (on < 0) {
      endings[at(system.outlet_place(static_cast<int>(o)))] = {true, std::nullopt, false};
      continue;
    }
    // Where a joint has several taps, the water first comes out at the lowest.
    Ending& joint = endings[at(on)];
    const double tap_m = outlet.elevation.metres();
    joint = {true, joint.level_m ? std::min(*joint.level_m, tap_m) : tap_m, false};
  }
  return endings;
}

void add_path(std::vector<Path>& found, const Ending& ending, Path path) {
  const double end_m = end_elevation_m(path.legs.back());
  if (ending.level_m && *ending.level_m > end_m) path.end_level_m = ending.level_m;
  path.end_stands = ending.stands && path.end_level_m;
  const bool as_drawn =
      std::none_of(path.legs.begin(), path.legs.end(), [](const PathLeg& l) { return l.reversed; });
  if (as_drawn || path.end_level_m.value_or(end_m) < path.source_level_m) found.push_back(std::move(path));
}

/// Whether water can run from a source back through a line that ends there. The end must be under water; in a
/// tank, water enters at the higher of the inlet and the end itself.
bool runs_back_from(const System& system, const Source& source, const network::Line& line) {
  const network::Tank* tank = system.tank(source.place);
  const double end_m = line.end_elevation().metres();
  return (tank ? std::max(end_m, tank->inlet.metres()) : end_m) < source.level_m;
}

/// Searches breadth first, so that the first way found to a place has the fewest pipelines.
void paths_from(std::vector<Path>& found, const System& system, const Endings& endings, const Ways& ways,
                const Source& source) {
  struct Reached {
    int place;
    std::size_t before;  // index into the queue
    PathLeg leg;
  };
  std::vector<Reached> queue{{source.place, 0, {}}};
  std::unordered_set<int> seen{source.place};
  for (std::size_t i = 0; i < queue.size(); ++i) {
    const int place = queue[i].place;
    if (i > 0 && endings[at(place)].ends) {
      std::vector<PathLeg> legs;
      for (std::size_t k = i; k > 0; k = queue[k].before) legs.push_back(queue[k].leg);
      std::reverse(legs.begin(), legs.end());
      add_path(found, endings[at(place)],
               {system.place_name(source.place), system.place_name(place), std::move(legs), source.level_m,
                std::nullopt, false});
    }
    if (i > 0 && system.kind(place) != network::PlaceKind::joint) continue;
    for (const Onward& way : ways[at(place)])
      if ((i > 0 || !way.reversed || runs_back_from(system, source, *way.line)) && seen.insert(way.to).second)
        queue.push_back({way.to, i, {way.line, way.reversed}});
  }
}

}  // namespace

std::vector<Path> paths(const System& system) {
  std::vector<Path> found;
  const Ways ways = ways_of(system);
  const Endings endings = endings_of(system);
  for (const Source& source : sources_of(system)) paths_from(found, system, endings, ways, source);
  return found;
}

Profile profile_of(const Path& path) { return profile_of(path.legs); }

StartConditions conditions_of(const Path& path, const network::Site& site) {
  return {site.atmospheric_head_m(), path.source_level_m, path.end_level_m, {}, path.end_stands};
}

}  // namespace runnel::air
