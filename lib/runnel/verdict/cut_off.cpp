#include "runnel/verdict/cut_off.h"

#include <algorithm>
#include <map>
#include <set>

#include "runnel/network/draws.h"

namespace runnel::verdict {
namespace {

using network::Model;
using network::Pipeline;

bool passes(const Pipeline& line) {
  return std::none_of(line.parts.begin(), line.parts.end(), [](const network::Part& p) {
    return p.kind == network::PartKind::valve && p.open == 0.0;
  });
}

using Places = std::set<std::string>;

/// Boxes with a spring. One that gives nothing under a setting has run dry, which shuts nothing off.
Places springs(const Model& drawn) {
  Places all;
  for (const network::Box& box : drawn.boxes)
    if (box.yield.si() > 0.0) all.insert(box.name);
  return all;
}

/// Places that open pipe joins to a spring, or to a tank that a line leads away from. Lines are followed both
/// ways here, since heights are another matter. `but` is no source.
Places reached(const Model& model, const Places& sources, const std::string& but) {
  Places seen = sources;
  for (const Pipeline& line : model.pipelines)
    if (model.tank(line.from)) seen.insert(line.from);
  seen.erase(but);
  std::multimap<std::string, std::string> joined;
  for (const Pipeline& line : model.pipelines) {
    if (!passes(line)) continue;
    joined.emplace(line.from, line.to);
    joined.emplace(line.to, line.from);
  }
  std::vector<std::string> todo(seen.begin(), seen.end());
  while (!todo.empty()) {
    const std::string place = todo.back();
    todo.pop_back();
    for (auto [at, end] = joined.equal_range(place); at != end; ++at)
      if (seen.insert(at->second).second) todo.push_back(at->second);
  }
  for (const network::Outlet& outlet : model.outlets) {
    if (!outlet.on.empty() && seen.count(outlet.on)) seen.insert(outlet.name);
    if (outlet.shut) seen.erase(outlet.name);
  }
  return seen;
}

std::set<std::string> due(const Model& model) {
  std::set<std::string> places;
  for (const network::Ask& ask : model.asks) places.insert(ask.at);
  for (const network::Joint& joint : model.joints)
    if (joint.draw.si() > 0.0) places.insert(joint.name);
  for (const network::Outlet& outlet : model.outlets)
    if (network::busiest_hour(outlet.draws) > Flow{}) places.insert(outlet.name);
  return places;
}

}  // namespace

std::vector<std::string> cut_off(const Model& drawn, const Model& run) {
  std::vector<std::string> cut;
  const Places sources = springs(drawn), before = reached(drawn, sources, ""),
               now = reached(run, sources, "");
  for (const std::string& place : due(run)) {
    // A tank is a source for others, not for itself.
    const bool tank = run.tank(place) != nullptr;
    const bool was = (tank ? reached(drawn, sources, place) : before).count(place) > 0;
    const bool is = (tank ? reached(run, sources, place) : now).count(place) > 0;
    if (was && !is) cut.push_back(place);
  }
  return cut;
}

std::vector<std::string> opened_elsewhere(const Model& drawn) {
  std::vector<std::string> cut;
  for (const network::Setting& setting : drawn.settings)
    if (const auto run = network::under_setting(drawn, setting.name))
      for (const std::string& place : cut_off(*run.value, drawn))
        if (std::find(cut.begin(), cut.end(), place) == cut.end() && drawn.outlet(place) &&
            drawn.outlet(place)->shut)
          cut.push_back(place);
  return cut;
}

std::vector<std::string> not_due(const Model& drawn, const Model& run,
                                 const std::vector<std::string>& turns) {
  std::vector<std::string> cut = cut_off(drawn, run);
  for (const std::string& place : turns) {
    const network::Outlet* outlet = run.outlet(place);
    if (outlet && outlet->shut && std::find(cut.begin(), cut.end(), place) == cut.end()) cut.push_back(place);
  }
  return cut;
}

}  // namespace runnel::verdict
