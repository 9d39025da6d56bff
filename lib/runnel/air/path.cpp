#include "runnel/air/path.h"

#include <algorithm>
#include <cstddef>
#include <map>
#include <set>

namespace runnel::air {
namespace {

using network::PartKind;
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

/// A place where water can come out: the level over the end of the last pipe there, if there is one.
struct Ending {
  bool ends = false;
  std::optional<double> level_m;
};
using Endings = std::map<std::string, Ending>;

Endings endings_of(const System& system) {
  Endings endings;
  for (const network::Joint& joint : system.joints) endings[joint.name].ends = joint.draw.si() > 0.0;
  for (const network::Box& box : system.boxes) endings[box.name] = {true, box.lip.metres()};
  for (const network::Tank& tank : system.tanks) endings[tank.name] = {true, tank.level.metres()};
  for (const network::Outlet& outlet : system.outlets) {
    if (outlet.shut) continue;
    if (outlet.on.empty()) {
      endings[outlet.name] = {true, std::nullopt};
      continue;
    }
    // Of several taps on a joint the lowest is where the water first comes out.
    Ending& joint = endings[outlet.on];
    const double tap_m = outlet.elevation.metres();
    joint = {true, joint.level_m ? std::min(*joint.level_m, tap_m) : tap_m};
  }
  return endings;
}

void add_path(std::vector<Path>& found, const Ending& ending, const Source& source, const std::string& end,
              std::vector<PathLeg> legs) {
  Path path{source.name, end, std::move(legs), source.level_m, std::nullopt};
  const double end_m = end_elevation_m(path.legs.back());
  if (ending.level_m && *ending.level_m > end_m) path.end_level_m = ending.level_m;
  const bool as_drawn =
      std::none_of(path.legs.begin(), path.legs.end(), [](const PathLeg& l) { return l.reversed; });
  if (as_drawn || path.end_level_m.value_or(end_m) < source.level_m) found.push_back(std::move(path));
}

/// Breadth first, so that the first way found to a place has the fewest pipelines.
void paths_from(std::vector<Path>& found, const Endings& endings, const Ways& ways, const Source& source,
                const std::set<std::string>& joints) {
  struct Reached {
    std::string place;
    std::size_t before;  // index into the queue
    PathLeg leg;
  };
  std::vector<Reached> queue{{source.name, 0, {}}};
  std::set<std::string> seen{source.name};
  for (std::size_t i = 0; i < queue.size(); ++i) {
    const std::string place = queue[i].place;
    const auto ending = endings.find(place);
    if (i > 0 && ending != endings.end() && ending->second.ends) {
      std::vector<PathLeg> legs;
      for (std::size_t k = i; k > 0; k = queue[k].before) legs.push_back(queue[k].leg);
      std::reverse(legs.begin(), legs.end());
      add_path(found, ending->second, source, place, std::move(legs));
    }
    const auto on = ways.find(place);
    if (on == ways.end() || (i > 0 && joints.count(place) == 0)) continue;
    for (const Way& way : on->second)
      if (seen.insert(way.to).second) queue.push_back({way.to, i, {way.line, way.reversed}});
  }
}

}  // namespace

std::vector<Path> paths(const System& system) {
  std::vector<Path> found;
  const Ways ways = ways_of(system);
  const Endings endings = endings_of(system);
  std::set<std::string> joints;
  for (const network::Joint& joint : system.joints) joints.insert(joint.name);
  for (const Source& source : sources_of(system)) paths_from(found, endings, ways, source, joints);
  return found;
}

Profile profile_of(const Path& path) { return profile_of(path.legs); }

StartConditions conditions_of(const Path& path, const network::Site& site) {
  return {site.atmospheric_head_m(), path.source_level_m, path.end_level_m, {}};
}

}  // namespace runnel::air
