#include "runnel/steady/standing.h"

#include <algorithm>
#include <cmath>
#include <queue>
#include <utility>

#include "runnel/base/index.h"

namespace runnel::steady {
namespace {

/// Water that just touches a crest does not pass it, as a mouth or a tee at atmospheric pressure gives none;
/// within this much it counts as just touching.
constexpr double nothing_m = 1e-8;

}  // namespace

StandingWater stand_from_start(const LinePlan& plan, double level_m) {
  StandingWater water;
  water.at.resize(plan.vertices.size());
  for (std::size_t i = 0; i < plan.vertices.size(); ++i) {
    const Vertex& v = plan.vertices[i];
    if (v.floor_m >= level_m - nothing_m) return water;
    water.at[i] = level_m;
    if (v.shut) return water;
    if (v.holds_m) level_m = std::min(level_m, *v.holds_m);
  }
  water.out = level_m;
  return water;
}

StandingWater stand_from_end(const LinePlan& plan, double level_m) {
  StandingWater water;
  water.at.resize(plan.vertices.size());
  for (std::size_t i = plan.vertices.size(); i-- > 0;) {
    const Vertex& v = plan.vertices[i];
    if (v.floor_m >= level_m - nothing_m) return water;
    water.at[i] = level_m;
    if (v.shut || v.keeps_back) return water;
  }
  water.out = level_m;
  return water;
}

std::optional<double> stand_beyond(const ColumnLaw& law, double level_m, double least_m) {
  if (law.need(0.0, least_m).head_m >= level_m - nothing_m) return std::nullopt;
  const auto passes = [&](double sink_m) { return law.need(0.0, sink_m).head_m <= level_m; };
  double low = least_m, high = std::max(level_m, least_m);
  if (passes(high)) return high;
  while (high - low > 1e-12 * std::max(1.0, std::abs(high))) {  // near rounding of heads
    const double middle = 0.5 * (low + high);
    (passes(middle) ? low : high) = middle;
  }
  return low;
}

namespace {

/// The level at which water that stands at one end of a line comes out at the other.
std::optional<double> stands_through(const Assembly& assembly, std::size_t l, bool from_start,
                                     double level_m) {
  const LinePlan& plan = assembly.plans[l];
  auto out = (from_start ? stand_from_start(plan, level_m) : stand_from_end(plan, level_m)).out;
  const Link& link = assembly.kernel.links[at(assembly.line_link[l])];
  const int column = from_start ? link.forward_column : link.backward_column;
  if (!out || column < 0) return out;
  const Vertex& end = from_start ? plan.vertices.back() : plan.vertices.front();
  const auto beyond = stand_beyond(*assembly.kernel.columns[at(column)], level_m, end.floor_m);
  return beyond ? std::optional(std::min(*out, *beyond)) : std::nullopt;
}

}  // namespace

std::vector<std::optional<double>> heads_with_water(const Assembly& assembly, const KernelState& solved,
                                                    const std::vector<double>& line_flow_m3s) {
  const Kernel& kernel = assembly.kernel;
  const std::size_t n = kernel.nodes.size();
  std::vector<std::optional<double>> head(n);
  std::vector<std::vector<std::size_t>> still(n);    // lines at a node in which nothing flows
  std::priority_queue<std::pair<double, int>> todo;  // highest first, since no level rises on its way
  const auto flows_at = [&](int v) {
    if (v >= 0 && !head[at(v)]) head[at(v)] = solved.head_m[at(v)];
  };
  for (std::size_t v = 0; v < n; ++v)
    if (kernel.nodes[v].fixed || kernel.nodes[v].inflow_m3s > 0.0) flows_at(static_cast<int>(v));
  for (std::size_t l = 0; l < assembly.line_link.size(); ++l) {
    const Link& link = kernel.links[at(assembly.line_link[l])];
    for (const int v : {link.a, link.b}) {
      if (line_flow_m3s[l] != 0.0)
        flows_at(v);
      else if (v >= 0)
        still[at(v)].push_back(l);
    }
  }
  for (std::size_t v = 0; v < n; ++v)
    if (head[v] && !still[v].empty()) todo.emplace(*head[v], static_cast<int>(v));
  std::vector<char> done(n, 0);
  while (!todo.empty()) {
    const auto [level, v] = todo.top();
    todo.pop();
    if (!head[at(v)]) head[at(v)] = level;
    if (done[at(v)]) continue;
    done[at(v)] = 1;
    for (const std::size_t l : still[at(v)]) {
      const Link& link = kernel.links[at(assembly.line_link[l])];
      for (const bool from_start : {true, false}) {
        if ((from_start ? link.a : link.b) != v) continue;
        const int other = from_start ? link.b : link.a;
        if (other < 0 || head[at(other)]) continue;
        if (const auto out = stands_through(assembly, l, from_start, level)) todo.emplace(*out, other);
      }
    }
  }
  return head;
}

}  // namespace runnel::steady
