#include "runnel/verdict/cut_off.h"

#include <algorithm>
#include <set>

namespace runnel::verdict {
namespace {

using network::Model;
using network::Pipeline;

bool passes(const Pipeline& line) {
  return std::none_of(line.parts.begin(), line.parts.end(), [](const network::Part& p) {
    return p.kind == network::PartKind::valve && p.open == 0.0;
  });
}

/// Places that open pipe joins to a spring or a tank. Lines lead both ways here: what lies too high is
/// another matter.
std::set<std::string> reached(const Model& model, const std::string& but) {
  std::set<std::string> seen;
  for (const network::Box& box : model.boxes)
    if (box.yield.si() > 0.0) seen.insert(box.name);
  for (const network::Tank& tank : model.tanks) seen.insert(tank.name);
  seen.erase(but);
  for (bool more = true; more;) {
    more = false;
    for (const Pipeline& line : model.pipelines) {
      if (!passes(line) || seen.count(line.from) == seen.count(line.to)) continue;
      seen.insert({line.from, line.to});
      more = true;
    }
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
  return places;
}

}  // namespace

std::vector<std::string> cut_off(const Model& drawn, const Model& run) {
  std::vector<std::string> cut;
  for (const std::string& place : due(run))
    // A tank is a source for others, not for itself.
    if (reached(drawn, place).count(place) && !reached(run, place).count(place)) cut.push_back(place);
  return cut;
}

}  // namespace runnel::verdict
