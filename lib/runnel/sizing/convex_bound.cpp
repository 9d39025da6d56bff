#include "runnel/sizing/convex_bound.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"
#include "runnel/sizing/cuts.h"
#include "runnel/sizing/linear_programme.h"

namespace runnel::sizing {
namespace {

// Tangents to a curve, at head losses from the most there can be down to a thousandth of it.
constexpr int tangents = 9;
constexpr double finest = 1e-3;
// How far off the simplex code may be, conceded as a share of a cost and of the width of a range.
constexpr double rounding = 1e-6;

// More than any line carries.
constexpr double any_flow_m3s = 1e4;

using Entry = LinearProgramme::Entry;

struct Range {
  double least, most;
};

/// What is known of every design: heads at places, flows of runs and then of existing links.
struct Ranges {
  std::vector<Range> head_m, flow_m3s;
};

bool has_curve(const losses::PipeFriction& pipe) { return pipe.law() == losses::Law::hazen_williams; }

/// The runs, and the existing links as runs of one option; empty where one of them has no curve.
std::vector<LoopRun> edges_of(const LoopChoice& choice) {
  std::vector<LoopRun> edges = choice.runs;
  for (const steady::Link& link : choice.there.links)
    if (!link.shut && (link.b < 0 || link.terms != 1)) return {};
  for (const int l : links_that_stay(choice)) {
    const steady::Link& link = choice.there.links[at(l)];
    const double length_m = choice.there.lengths_m[choice.there.controls[link.forward].lengths];
    edges.push_back({link.a, link.b, length_m, {{0.0, choice.there.terms[link.term]}}, l});
  }
  for (const LoopRun& edge : edges)
    for (const LoopOption& option : edge.options)
      if (edge.b < 0 || (option.pipe && !has_curve(*option.pipe))) return {};
  return edges;
}

/// Whether an edge has nothing but friction, both ways.
bool is_plain(const LoopChoice& choice, const LoopRun& edge) {
  if (edge.link < 0) return true;
  const steady::Link& link = choice.there.links[at(edge.link)];
  const auto frictional = [&](std::uint32_t control) {
    return choice.there.controls[control].quadratic_s2m5 == 0.0;
  };
  return link.forwards == 1 && link.backwards == 1 && frictional(link.forward) && frictional(link.backward);
}

Ranges ranges_of(const LoopChoice& choice, const std::vector<LoopRun>& edges) {
  Ranges ranges;
  const std::vector<double> most_m = most_heads_m(choice);
  double drawn = 0.0;
  for (std::size_t v = 0; v < most_m.size(); ++v) {
    const auto& node = choice.there.nodes[v];
    const bool source = choice.is_source(v);
    // A box may run lower than its lip, and a tank that takes water may be higher than what feeds it.
    const double least = node.fixed ? node.head_m : source ? -1e4 : std::max(choice.least_head_m[v], -1e4);
    ranges.head_m.push_back({least, source ? choice.source_head_m(v) : most_m[v]});
    if (!node.fixed) drawn += std::max(0.0, node.draw_m3s) + std::max(0.0, -node.inflow_m3s);
  }
  for (const LoopInflow& inflow : choice.inflows) drawn += inflow.flow_m3s;
  // With one source no line carries more than is drawn in all; between two sources any flow may run.
  std::size_t sources = 0;
  for (std::size_t v = 0; v < most_m.size(); ++v) sources += choice.is_source(v);
  if (sources > 1) drawn = any_flow_m3s;
  ranges.flow_m3s.assign(edges.size(), {-drawn, drawn});
  return ranges;
}

class Hull {
 public:
  Hull(const LoopChoice& choice, const std::vector<LoopRun>& edges, const Ranges& ranges,
       const std::vector<Cut>& cuts)
      : choice_(choice), ranges_(ranges), balance_(ranges.head_m.size()) {
    for (const Range& head : ranges.head_m)
      heads_.push_back(programme_.add_column(0.0, head.least, head.most));
    for (std::size_t e = 0; e < edges.size(); ++e) add_edge(edges[e], e);
    for (std::size_t v = 0; v < balance_.size(); ++v) {
      const auto& node = choice.there.nodes[v];
      if (!choice.is_source(v))
        programme_.add_row(balance_[v], node.draw_m3s - node.inflow_m3s, LinearProgramme::endless);
    }
    for (const Cut& cut : cuts) add_cut(cut);
  }

  double bound() const {
    const auto solved = programme_.solve();
    return solved ? std::max(0.0, solved->cost * (1.0 - rounding)) : 0.0;
  }

  /// Nothing that costs more than `cost` counts from here on.
  void no_dearer_than(double cost) {
    programme_.add_row(costs_, -LinearProgramme::endless, cost * (1.0 + rounding));
  }
  Range head_m(std::size_t v) { return narrowed(ranges_.head_m[v], {{heads_[v], 1.0}}); }
  Range flow_m3s(std::size_t e) { return narrowed(ranges_.flow_m3s[e], flows_[e]); }

 private:
  Range narrowed(Range range, std::vector<Entry> sum) {
    const double given_away = rounding * (range.most - range.least);
    if (const auto least = programme_.least_of(sum)) range.least = std::max(range.least, *least - given_away);
    for (Entry& entry : sum) entry.value = -entry.value;
    if (const auto least = programme_.least_of(sum)) range.most = std::min(range.most, given_away - *least);
    return range;
  }

  void add_edge(const LoopRun& edge, std::size_t e) {
    const Range &a = ranges_.head_m[at(edge.a)], &b = ranges_.head_m[at(edge.b)];
    std::vector<Entry> shares, fall{{heads_[at(edge.a)], 1.0}, {heads_[at(edge.b)], -1.0}};
    flows_.emplace_back();
    options_.emplace_back();
    for (std::size_t k = 0; k < edge.options.size(); ++k) {
      const LoopOption& option = edge.options[k];
      if (!option.pipe) {
        add_nothing(option.cost, {a.least - b.most, a.most - b.least}, shares, fall);
      } else {
        add_way(edge, option, a.most - b.least, ranges_.flow_m3s[e], true, shares, fall);
        const Range back{-ranges_.flow_m3s[e].most, -ranges_.flow_m3s[e].least};
        add_way(edge, option, b.most - a.least, back, false, shares, fall);
      }
      options_.back().resize(shares.size(), k);
    }
    shares_.push_back(shares);
    programme_.add_row(shares, 1.0, 1.0);
    programme_.add_row(fall, 0.0, 0.0);
  }

  /// Where no pipe is laid, the heads at both ends are independent of each other.
  void add_nothing(double cost, const Range& loss_m, std::vector<Entry>& shares, std::vector<Entry>& fall) {
    const std::size_t share = add_share(cost, shares);
    const std::size_t loss = programme_.add_column(0.0, -LinearProgramme::endless);
    fall.push_back({loss, -1.0});
    programme_.add_row({{loss, 1.0}, {share, -loss_m.most}}, -LinearProgramme::endless, 0.0);
    programme_.add_row({{loss, 1.0}, {share, -loss_m.least}}, 0.0, LinearProgramme::endless);
  }

  std::size_t add_share(double cost, std::vector<Entry>& shares) {
    const std::size_t share = programme_.add_column(cost, 0.0);
    shares.push_back({share, 1.0});
    costs_.push_back({share, cost});
    return share;
  }

  /// One option with water running one way: its share, and its parts of head and flow.
  void add_way(const LoopRun& edge, const LoopOption& option, double most_loss_m, const Range& carries_m3s,
               bool forward, std::vector<Entry>& shares, std::vector<Entry>& fall) {
    if (!(most_loss_m > 0.0) || !(carries_m3s.most > 0.0)) return;
    const std::size_t share = add_share(option.cost, shares);
    const std::size_t loss = programme_.add_column(0.0, 0.0), flow = programme_.add_column(0.0, 0.0);
    fall.push_back({loss, forward ? -1.0 : 1.0});
    flows_.back().push_back({flow, forward ? 1.0 : -1.0});
    balance_[at(forward ? edge.a : edge.b)].push_back({flow, -1.0});
    balance_[at(forward ? edge.b : edge.a)].push_back({flow, 1.0});
    const auto at_most = [&](std::size_t what, double most) {
      programme_.add_row({{what, 1.0}, {share, -most}}, -LinearProgramme::endless, 0.0);
    };
    // With friction as the only loss it carries just what its head drives: on the curve, so above its chord.
    if (is_plain(choice_, edge))
      programme_.add_row(
          {{flow, 1.0}, {loss, -flow_at(*option.pipe, edge.length_m, most_loss_m) / most_loss_m}}, 0.0,
          LinearProgramme::endless);
    at_most(loss, most_loss_m);
    at_most(flow, carries_m3s.most);
    if (carries_m3s.least > 0.0)
      programme_.add_row({{flow, 1.0}, {share, -carries_m3s.least}}, 0.0, LinearProgramme::endless);
    double head_m = most_loss_m;
    for (int t = 0; t < tangents; ++t, head_m *= std::pow(finest, 1.0 / (tangents - 1))) {
      const double carries = flow_at(*option.pipe, edge.length_m, head_m);
      const double slope = 1.0 / (edge.length_m * option.pipe->per_metre(carries).slope_sm2);
      programme_.add_row({{flow, 1.0}, {loss, -slope}, {share, slope * head_m - carries}},
                         -LinearProgramme::endless, 0.0);
    }
  }

  void add_cut(const Cut& cut) {
    std::vector<Entry> row;
    for (std::size_t i = 0; i < cut.runs.size(); ++i) {
      const std::size_t r = cut.runs[i];
      for (std::size_t s = 0; s < shares_[r].size(); ++s)
        row.push_back({shares_[r][s].column, std::min(cut.carries_m3s[i][options_[r][s]], cut.needed_m3s)});
    }
    programme_.add_row(row, cut.needed_m3s, LinearProgramme::endless);
  }

  const LoopChoice& choice_;
  const Ranges& ranges_;
  LinearProgramme programme_;
  std::vector<std::size_t> heads_;
  std::vector<Entry> costs_;
  std::vector<std::vector<Entry>> balance_, flows_, shares_;
  std::vector<std::vector<std::size_t>> options_;  ///< for each share of each edge
};

}  // namespace

double bound_by_convex_hull(const LoopChoice& choice, const HullLimits& limits) {
  const std::vector<LoopRun> edges = edges_of(choice);
  if (edges.empty()) return 0.0;
  Ranges ranges = ranges_of(choice, edges);
  const std::vector<Cut> cuts = cuts_of(choice, choice.runs.size() > 40 ? 2 : 3);
  double bound = Hull(choice, edges, ranges, cuts).bound();
  for (int round = 0; round < limits.rounds && !limits.stop(); ++round) {
    Ranges narrower = ranges;
    Hull hull(choice, edges, ranges, cuts);
    hull.no_dearer_than(limits.cost_of_known);
    for (std::size_t e = 0; e < edges.size() && !limits.stop(); ++e) narrower.flow_m3s[e] = hull.flow_m3s(e);
    for (std::size_t v = 0; v < ranges.head_m.size() && !limits.stop(); ++v)
      narrower.head_m[v] = hull.head_m(v);
    ranges = std::move(narrower);
    bound = std::max(bound, Hull(choice, edges, ranges, cuts).bound());
  }
  return bound;
}

}  // namespace runnel::sizing
