#include "runnel/steady/static_heads.h"

#include <algorithm>
#include <queue>
#include <utility>

#include "runnel/losses/overflow.h"
#include "runnel/network/floats.h"

namespace runnel::steady {
namespace {

using network::System;

using Levels = std::vector<std::optional<double>>;

void raise(std::optional<double>& level, double to) {
  if (!level || *level < to) level = to;
}

/// Lets in water of a level at one end; returns the level at which it comes out at the other, if it does.
std::optional<double> flood(const LinePlan& plan, bool from_start, double level, Levels& at) {
  const std::size_t n = plan.vertices.size();
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t i = from_start ? k : n - 1 - k;
    const Vertex& v = plan.vertices[i];
    const network::CoursePoint& point = plan.course.points()[i];
    // A sealed line is primed, and its water holds together over points above the level, to its own floor.
    if (std::min(v.floor_m, point.elevation_m) > level) return std::nullopt;
    raise(at[i], level);
    if (v.shut || (!from_start && v.keeps_back)) return std::nullopt;
    if (v.holds_m) level = std::min(level, *v.holds_m);
  }
  return level;
}

/// The pipelines at every node.
std::vector<std::vector<std::size_t>> lines_at_nodes(const Assembly& assembly) {
  std::vector<std::vector<std::size_t>> lines(assembly.kernel.nodes.size());
  for (std::size_t l = 0; l < assembly.line_link.size(); ++l) {
    const Link& link = assembly.kernel.links[static_cast<std::size_t>(assembly.line_link[l])];
    lines[static_cast<std::size_t>(link.a)].push_back(l);
    if (link.b >= 0 && link.b != link.a) lines[static_cast<std::size_t>(link.b)].push_back(l);
  }
  return lines;
}

/// How high water stands over a lip while all that may run in leaves by the overflow, at most up to the top
/// of the wall. Zero if no overflow is described.
double over_lip_m(const std::optional<losses::Overflow>& overflow, const std::optional<Length>& rim,
                  Length lip, double inflow_m3s) {
  if (!overflow) return 0.0;
  const auto head = losses::overflow_head(*overflow, inflow_m3s);
  if (rim) return std::min(head ? head->head_m : unbounded, std::max(0.0, (*rim - lip).metres()));
  return head ? head->head_m : 0.0;  // water that cannot leave at all is a finding of its own
}

double all_yields_m3s(const System& system) {
  double sum = 0.0;
  for (const network::Box& box : system.boxes()) sum += box.yield.si();
  return sum;
}

/// `all_m3s`: what all springs give.
double box_surface_m(const System& system, std::size_t b, double all_m3s) {
  const network::Box& box = system.boxes()[b];
  const auto& lines = system.lines_at(system.box_place(static_cast<int>(b)));
  const bool fed = std::any_of(lines.begin(), lines.end(), [&](int l) {
    return system.lines()[static_cast<std::size_t>(l)].to == system.box_place(static_cast<int>(b));
  });
  const double most_m3s = fed ? all_m3s : box.yield.si();
  return box.lip.metres() + over_lip_m(box.overflow, box.rim, box.lip, most_m3s);
}

double tank_surface_m(const System& system, const network::Tank& tank, double all_m3s) {
  const double full_m = std::max(tank.level, network::full_level(system.model(), tank)).metres();
  const bool spills = !tank.held && network::floats_of(system.model(), tank).empty();
  if (!spills) return full_m;
  return full_m + over_lip_m(tank.overflow, tank.rim, tank.lip, all_m3s);
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
  const double all_m3s = all_yields_m3s(system);
  for (std::size_t b = 0; b < system.boxes().size(); ++b)
    open_surface(assembly.nodes_of(network::PlaceKind::box)[b], box_surface_m(system, b, all_m3s),
                 system.boxes()[b].yield.si() > 0.0);
  for (std::size_t t = 0; t < system.tanks().size(); ++t)
    open_surface(assembly.nodes_of(network::PlaceKind::tank)[t],
                 tank_surface_m(system, system.tanks()[t], all_m3s), true);
  const auto lines = lines_at_nodes(assembly);
  std::vector<char> done(assembly.kernel.nodes.size(), 0);
  while (!todo.empty()) {
    const auto [level, node] = todo.top();
    todo.pop();
    const auto v = static_cast<std::size_t>(node);
    if (done[v]) continue;
    done[v] = 1;
    heads.node_m[v] = level;
    for (const std::size_t l : lines[v]) {
      const Link& link = assembly.kernel.links[static_cast<std::size_t>(assembly.line_link[l])];
      for (const bool from_start : {true, false}) {
        if ((from_start ? link.a : link.b) != node) continue;
        const auto out = flood(assembly.plans[l], from_start, level, heads.line_m[l]);
        const int other = from_start ? link.b : link.a;
        if (!out || other < 0) continue;
        const auto w = static_cast<std::size_t>(other);
        if (held[w]) {
          if (!done[w]) todo.emplace(*surface[w], other);  // it fills up to its own surface
        } else if (!done[w]) {
          todo.emplace(*out, other);
        }
      }
    }
  }
  return heads;
}

}  // namespace runnel::steady
