#include "runnel/steady/static_heads.h"

#include <algorithm>
#include <queue>
#include <utility>

namespace runnel::steady {
namespace {

using network::Pipeline;
using network::System;

using Levels = std::vector<std::optional<double>>;

void raise(std::optional<double>& level, double to) {
  if (!level || *level < to) level = to;
}

std::vector<char> shut_vertices(const Pipeline& line, const LinePlan& plan) {
  std::vector<char> shut(plan.vertices.size(), 0);
  for (const auto& part : line.parts)
    if (part.kind == network::PartKind::valve && part.open <= 0.0)
      for (std::size_t i = 0; i < plan.vertices.size(); ++i)
        if (plan.vertices[i].station_m >= part.at.metres() - 1e-9) {
          shut[i] = 1;
          break;
        }
  return shut;
}

/// Lets water of a level in at one end; returns the level that comes out at the other, if any.
std::optional<double> flood(const Pipeline& line, const LinePlan& plan, bool from_start, double level, Levels& at) {
  const std::size_t n = plan.vertices.size();
  const std::vector<char> shut = shut_vertices(line, plan);
  const bool checked = std::any_of(line.parts.begin(), line.parts.end(),
                                   [](const auto& p) { return p.kind == network::PartKind::check_valve; });
  const bool reducing = std::any_of(plan.vertices.begin(), plan.vertices.end(),
                                    [](const Vertex& v) { return v.holds_m.has_value(); });
  if (!from_start && (checked || reducing)) return std::nullopt;
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t i = from_start ? k : n - 1 - k;
    if (plan.vertices[i].elevation_m > level) return std::nullopt;
    raise(at[i], level);
    if (shut[i]) return std::nullopt;
    if (plan.vertices[i].holds_m) level = std::min(level, *plan.vertices[i].holds_m);
  }
  return level;
}

}  // namespace

StaticHeads static_heads(const System& system, const Assembly& assembly) {
  StaticHeads heads;
  heads.node_m.resize(assembly.kernel.nodes.size());
  for (const LinePlan& plan : assembly.plans) heads.line_m.emplace_back(plan.vertices.size());

  std::vector<std::optional<double>> surface(assembly.kernel.nodes.size());
  std::vector<char> held(assembly.kernel.nodes.size(), 0);  // open surfaces: nothing raises them
  std::priority_queue<std::pair<double, int>> todo;
  auto open_surface = [&](int node, double level, bool filled) {
    surface[static_cast<std::size_t>(node)] = level;
    held[static_cast<std::size_t>(node)] = 1;
    if (filled) todo.emplace(level, node);
  };
  for (std::size_t b = 0; b < system.boxes.size(); ++b)
    open_surface(assembly.box_node[b], system.boxes[b].lip.metres(), system.boxes[b].yield.si() > 0.0);
  for (std::size_t t = 0; t < system.tanks.size(); ++t) {
    const auto& tank = system.tanks[t];
    const double full = tank.float_valve ? std::max(tank.level, tank.float_valve->shuts_at).metres() : tank.lip.metres();
    open_surface(assembly.tank_node[t], full, true);
  }
  std::vector<char> done(assembly.kernel.nodes.size(), 0);
  while (!todo.empty()) {
    const auto [level, node] = todo.top();
    todo.pop();
    const auto v = static_cast<std::size_t>(node);
    if (done[v]) continue;
    done[v] = 1;
    heads.node_m[v] = level;
    for (std::size_t l = 0; l < system.pipelines.size(); ++l) {
      const Link& link = assembly.kernel.links[static_cast<std::size_t>(assembly.line_link[l])];
      for (const bool from_start : {true, false}) {
        if ((from_start ? link.a : link.b) != node) continue;
        const auto out = flood(system.pipelines[l], assembly.plans[l], from_start, level, heads.line_m[l]);
        const int other = from_start ? link.b : link.a;
        if (!out || other < 0) continue;
        const auto w = static_cast<std::size_t>(other);
        if (held[w]) {
          if (!done[w]) todo.emplace(*surface[w], other);  // it fills, and stands at its own surface
        } else if (!done[w]) {
          todo.emplace(*out, other);
        }
      }
    }
  }
  return heads;
}

}  // namespace runnel::steady
