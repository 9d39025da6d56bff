#include "runnel/review/water_ways.h"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/edmonds_karp_max_flow.hpp>
#include <deque>

#include "runnel/network/floats.h"

namespace runnel::review {

namespace {

using network::Line;
using network::PartKind;
using network::PlaceKind;
using network::System;

/// How high water may stand at a place.
std::optional<double> top_of_water(const System& system, int place) {
  if (const network::Box* box = system.box(place)) return box->lip.metres();
  if (const network::Tank* tank = system.tank(place))
    return std::max(tank->level, network::full_level(system.model(), *tank)).metres();
  return std::nullopt;
}

}  // namespace

WaterWays::WaterWays(const System& system) : places_(system.places()) {
  for (int place = 0; place < places_; ++place)
    if (top_of_water(system, place)) water_.push_back(node_of_place(place));
  for (int line = 0; line < static_cast<int>(system.lines().size()); ++line) add_line(system, line);
  for (int outlet = 0; outlet < static_cast<int>(system.outlets().size()); ++outlet) {
    const int joint = system.hangs_on(outlet);
    if (joint >= 0) ways_.push_back({node_of_place(joint), node_of_place(system.outlet_place(outlet)), true});
  }
}

void WaterWays::add_line(const System& system, int number) {
  const Line& line = system.lines()[static_cast<std::size_t>(number)];
  std::vector<std::size_t> own;
  const auto add_piece = [&](double from_m) {
    if (!own.empty()) pieces_[own.back() - static_cast<std::size_t>(places_)].to_m = from_m;
    pieces_.push_back({number, from_m, line.course.last_m()});
    own.push_back(nodes() - 1);
  };
  add_piece(line.course.first_m());
  for (std::size_t i = 0; i < line.parts.size(); ++i) {
    const network::FittedPart& part = line.parts[i];
    const bool valve = part.kind == PartKind::valve;
    if (!valve && part.kind != PartKind::check_valve) continue;
    add_piece(part.at.metres());
    Way way{own[own.size() - 2], own.back(), valve};
    if (valve) way.valve = ValveRef{number, i};
    way.drawn_shut = valve && part.open <= 0.0;
    ways_.push_back(way);
  }
  ways_.push_back({node_of_place(line.from), own.front(), true});
  const auto top = top_of_water(system, line.to);
  const bool lets_back = !top || line.end_elevation().metres() < *top - network::same_station_m;
  ways_.push_back({own.back(), node_of_place(line.to), lets_back});
  pieces_of_line_.push_back(std::move(own));
}

std::size_t WaterWays::node_at(int line, double station_m) const {
  const auto& own = pieces_of_line_[static_cast<std::size_t>(line)];
  for (const std::size_t node : own)
    if (station_m <= pieces_[node - static_cast<std::size_t>(places_)].to_m) return node;
  return own.back();
}

std::size_t WaterWays::node_before(const ValveRef& valve) const {
  return std::find_if(ways_.begin(), ways_.end(), [&](const Way& way) { return way.valve == valve; })->from;
}

std::optional<PipePiece> WaterWays::piece(std::size_t node) const {
  if (node < static_cast<std::size_t>(places_)) return std::nullopt;
  return pieces_[node - static_cast<std::size_t>(places_)];
}

namespace {

using Traits = boost::adjacency_list_traits<boost::vecS, boost::vecS, boost::directedS>;
struct EdgeData {
  long capacity = 0, residual = 0;
  Traits::edge_descriptor reverse;
};
using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property, EdgeData>;
using Edge = Traits::edge_descriptor;

/// An edge with its reverse, each of its own capacity.
void add_edge(Graph& graph, std::size_t from, std::size_t to, long there, long back) {
  const Edge forward = boost::add_edge(from, to, graph).first;
  const Edge backward = boost::add_edge(to, from, graph).first;
  graph[forward].capacity = there;
  graph[backward].capacity = back;
  graph[forward].reverse = backward;
  graph[backward].reverse = forward;
}

/// Nodes from which something could still flow to the target.
std::vector<char> reaching(const Graph& graph, std::size_t target) {
  std::vector<char> seen(boost::num_vertices(graph), 0);
  std::deque<std::size_t> next{target};
  seen[target] = 1;
  while (!next.empty()) {
    const std::size_t at = next.front();
    next.pop_front();
    for (auto [e, end] = boost::out_edges(at, graph); e != end; ++e) {
      const std::size_t other = boost::target(*e, graph);
      if (seen[other] || graph[graph[*e].reverse].residual <= 0) continue;
      seen[other] = 1;
      next.push_back(other);
    }
  }
  return seen;
}

/// The nearest water that reaches the target with every valve shut that can be.
std::optional<std::size_t> unstoppable(const WaterWays& ways, const Target& target) {
  std::vector<std::vector<std::size_t>> from(ways.nodes());
  for (const Way& way : ways.ways()) {
    if (way.drawn_shut && way.valve != target.valve) continue;
    if (way.valve && way.valve != target.valve) continue;
    from[way.to].push_back(way.from);
    if (way.both) from[way.from].push_back(way.to);
  }
  std::vector<char> seen(ways.nodes(), 0);
  std::deque<std::size_t> next{target.node};
  seen[target.node] = 1;
  while (!next.empty()) {
    const std::size_t at = next.front();
    next.pop_front();
    if (at != target.node && std::find(ways.water().begin(), ways.water().end(), at) != ways.water().end())
      return at;
    for (const std::size_t other : from[at])
      if (!seen[other]) seen[other] = 1, next.push_back(other);
  }
  return std::nullopt;
}

}  // namespace

Isolation isolate(const WaterWays& ways, const Target& target, Bypasses bypasses) {
  const long open = static_cast<long>(ways.ways().size()) + 1;  // more than all valves together
  const std::size_t source = ways.nodes();
  Graph graph(ways.nodes() + 1);
  for (const Way& way : ways.ways()) {
    const bool itself = way.valve && way.valve == target.valve;
    const bool out_of_play = way.drawn_shut && bypasses == Bypasses::stay_shut;
    const long capacity = itself || !way.valve ? open : out_of_play ? 0 : 1;
    add_edge(graph, way.from, way.to, capacity, way.both ? capacity : 0);
  }
  for (const std::size_t water : ways.water())
    if (water != target.node) add_edge(graph, source, water, open * open, 0);
  const long flow =
      boost::edmonds_karp_max_flow(graph, source, target.node,
                                   boost::capacity_map(boost::get(&EdgeData::capacity, graph))
                                       .residual_capacity_map(boost::get(&EdgeData::residual, graph))
                                       .reverse_edge_map(boost::get(&EdgeData::reverse, graph)));
  Isolation out;
  out.possible = flow < open;
  if (!out.possible) {
    out.fed_by = unstoppable(ways, target);
    return out;
  }
  const std::vector<char> wet = reaching(graph, target.node);
  for (const Way& way : ways.ways())
    if (way.valve && way.valve != target.valve && wet[way.from] != wet[way.to])
      (way.drawn_shut ? out.stay_shut : out.shut).push_back(*way.valve);
  for (std::size_t node = 0; node < ways.nodes(); ++node)
    if (wet[node]) out.zone.push_back(node);
  return out;
}

}  // namespace runnel::review
