#include "runnel/sizing/loop_split.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"
#include "runnel/sizing/linear_programme.h"
#include "runnel/sizing/loop_trials.h"
#include "runnel/sizing/split_program.h"

namespace runnel::sizing {
namespace {

// At most so many linear programmes are solved from one start; small systems need some hundreds.
constexpr int most_programmes = 4000;

/// The choice with the existing links behind its own runs, as runs of one option.
struct Frame {
  LoopChoice choice;
  std::size_t own_runs = 0;
  std::vector<bool> holds_head;
  std::vector<std::vector<double>> ways;  ///< round loops and from source to source: which flows change
  bool whole = true;                      ///< every link has one pipe
};

Frame with_old_links(const LoopChoice& choice) {
  Frame frame{choice, choice.runs.size(), {}, {}};
  for (const int l : links_that_stay(choice)) {
    const steady::Link& link = choice.there.links[at(l)];
    if (link.a < 0 || link.b < 0) continue;
    frame.whole = frame.whole && link.terms == 1;
    if (!frame.whole) break;
    LoopRun run{link.a,
                link.b,
                choice.there.lengths_m[choice.there.controls[link.forward].lengths],
                {{0.0, choice.there.terms[link.term], law_of(choice.there, link)}},
                l};
    frame.choice.runs.push_back(std::move(run));
  }
  return frame;
}

/// The places reached from those that hold their head, each with the run by which it is reached.
struct Forest {
  std::vector<int> up_run, depth;
  std::vector<bool> in_tree;
};

Forest forest_of(const Frame& frame) {
  const auto& runs = frame.choice.runs;
  Forest forest{std::vector<int>(frame.holds_head.size(), -1), std::vector<int>(frame.holds_head.size(), -1),
                std::vector<bool>(runs.size(), false)};
  std::vector<std::size_t> order;
  for (std::size_t v = 0; v < frame.holds_head.size(); ++v)
    if (frame.holds_head[v]) {
      forest.depth[v] = 0;
      order.push_back(v);
    }
  for (std::size_t i = 0; i < order.size(); ++i)
    for (std::size_t r = 0; r < runs.size(); ++r) {
      if (runs[r].b < 0) continue;
      const std::size_t a = at(runs[r].a), b = at(runs[r].b);
      if (a != order[i] && b != order[i]) continue;
      const std::size_t next = a == order[i] ? b : a;
      if (forest.depth[next] >= 0) continue;
      forest.depth[next] = forest.depth[order[i]] + 1;
      forest.up_run[next] = static_cast<int>(r);
      forest.in_tree[r] = true;
      order.push_back(next);
    }
  return forest;
}

/// One way round for each run that closes a loop, and one from source to source for each that joins two.
void find_ways(Frame& frame) {
  const auto& runs = frame.choice.runs;
  const Forest forest = forest_of(frame);
  for (std::size_t r = 0; r < runs.size(); ++r) {
    if (forest.in_tree[r] || runs[r].b < 0 || forest.depth[at(runs[r].a)] < 0) continue;
    std::vector<double> way(runs.size(), 0.0);
    way[r] = 1.0;
    std::size_t from = at(runs[r].b), to = at(runs[r].a);
    while (from != to && (forest.depth[from] > 0 || forest.depth[to] > 0)) {  // from b back to a
      const bool lift = forest.depth[from] >= forest.depth[to];
      std::size_t& here = lift ? from : to;
      const int up = forest.up_run[here];
      const bool away = at(runs[at(up)].a) == here;  // the run leads up from here
      way[at(up)] += away == lift ? 1.0 : -1.0;
      here = at(away ? runs[at(up)].b : runs[at(up)].a);
    }
    frame.ways.push_back(std::move(way));
  }
}

void add_heads(const Frame& frame, LinearProgramme& programme) {
  const LoopChoice& choice = frame.choice;
  for (std::size_t v = 0; v < frame.holds_head.size(); ++v) {
    const auto& node = choice.there.nodes[v];
    if (frame.holds_head[v])
      programme.add_column(0.0, choice.source_head_m(v), choice.source_head_m(v));
    else if (choice.is_source(v))
      programme.add_column(0.0, -LinearProgramme::endless, node.lip_m);
    else
      programme.add_column(0.0, choice.least_head_m[v]);
  }
}

/// No box that holds its head gives more than its spring does.
bool springs_give(const Frame& frame, const std::vector<double>& flow_m3s) {
  constexpr double rounding = 1e-9;
  const LoopChoice& choice = frame.choice;
  std::vector<double> out_m3s(frame.holds_head.size(), 0.0);
  for (std::size_t r = 0; r < choice.runs.size(); ++r) {
    out_m3s[at(choice.runs[r].a)] += flow_m3s[r];
    if (choice.runs[r].b >= 0) out_m3s[at(choice.runs[r].b)] -= flow_m3s[r];
  }
  for (std::size_t v = 0; v < out_m3s.size(); ++v) {
    const auto& node = choice.there.nodes[v];
    if (frame.holds_head[v] && !node.fixed && out_m3s[v] > node.inflow_m3s - node.draw_m3s + rounding)
      return false;
  }
  return true;
}

/// Every point that the water of a run has to get over between its ends.
std::vector<SplitCrest> crests_of(const Frame& frame, const LoopRun& run, double flow_m3s) {
  std::vector<SplitCrest> crests;
  if (run.link < 0 || flow_m3s == 0.0) return crests;
  const steady::Link& link = frame.choice.there.links[at(run.link)];
  const std::size_t first = flow_m3s > 0.0 ? 0 : link.forwards;
  const std::size_t last = flow_m3s > 0.0 ? link.forwards : link.forwards + link.backwards;
  const double flow = std::abs(flow_m3s);
  for (std::size_t c = first + 1; c < last; ++c) {
    SplitCrest crest;
    crest.sink_m = LinearProgramme::endless;
    for (const LoopOption& option : run.options) {
      if (!option.pipe || c >= option.law.controls.size()) return crests;
      const steady::Control& control = option.law.controls[c];
      if (!control.from_node || control.to_node || control.mouth >= 0) break;
      crest.along = option.law.lengths_m[c] / option.law.lengths_m[first];
      crest.sink_m = std::min(crest.sink_m, control.sink_head_m);
      crest.loss_m.push_back(option.law.lengths_m[c] * option.pipe->per_metre(flow).head_m +
                             control.quadratic_s2m5 * flow * std::hypot(flow, option.law.smooth_m3s));
    }
    if (crest.loss_m.size() == run.options.size() && crest.sink_m > -1e6) crests.push_back(std::move(crest));
  }
  return crests;
}

/// The programme of the shares for given flows; `first` holds the column of the first share of each run. With
/// `about`, flows may change by as much as `reach_m3s` along each way, and losses follow their slopes there.
struct Shares {
  LinearProgramme programme;
  std::vector<std::size_t> first, changes;
};

Shares shares_for(const Frame& frame, const std::vector<double>& flow_m3s, const LoopSplit* about = nullptr,
                  double reach_m3s = 0.0) {
  const LoopChoice& choice = frame.choice;
  Shares shares;
  LinearProgramme& programme = shares.programme;
  add_heads(frame, programme);
  for (std::size_t w = 0; about && w < frame.ways.size(); ++w)
    shares.changes.push_back(programme.add_column(0.0, -reach_m3s, reach_m3s));
  for (std::size_t r = 0; r < choice.runs.size(); ++r) {
    const LoopRun& run = choice.runs[r];
    std::vector<LinearProgramme::Entry> fall{{at(run.a), 1.0}}, whole;
    if (run.b >= 0) fall.push_back({at(run.b), -1.0});
    shares.first.push_back(programme.columns());
    double slope = 0.0;
    for (std::size_t k = 0; k < run.options.size(); ++k) {
      const LoopOption& option = run.options[k];
      const std::size_t share = programme.add_column(option.cost, 0.0, option.pipe ? 1.0 : 0.0);
      fall.push_back({share, -loss_m(choice, run, k, flow_m3s[r])});
      whole.push_back({share, 1.0});
      if (about) slope += about->share(r, k) * loss_slope_sm2(choice, run, k, flow_m3s[r]);
    }
    for (std::size_t w = 0; w < shares.changes.size(); ++w)
      if (frame.ways[w][r] != 0.0) fall.push_back({shares.changes[w], -slope * frame.ways[w][r]});
    if (run.b >= 0)
      programme.add_row(fall, 0.0, 0.0);
    else  // into the open air: with more head than it needs it runs all the more
      programme.add_row(fall, run.options.front().law.controls.front().sink_head_m, LinearProgramme::endless);
    programme.add_row(whole, 1.0, 1.0);
    const int from = flow_m3s[r] >= 0.0 ? run.a : run.b;
    for (const SplitCrest& crest : crests_of(frame, run, flow_m3s[r]))
      if (from >= 0) add_crest(programme, crest, whole, {{at(from), -1.0}}, -crest.sink_m);
  }
  return shares;
}

/// The cheapest shares for given flows, which must balance at every place.
LoopSplit split_at(const Frame& frame, const std::vector<double>& flow_m3s) {
  LoopSplit split;
  if (!springs_give(frame, flow_m3s)) return split;
  const Shares shares = shares_for(frame, flow_m3s);
  const auto solved = shares.programme.solve();
  if (!solved) return split;
  split.found = true;
  split.cost = solved->cost;
  split.flow_m3s = flow_m3s;
  split.holds_head = frame.holds_head;
  const auto& columns = solved->columns;
  split.head_m.assign(columns.begin(),
                      columns.begin() + static_cast<std::ptrdiff_t>(frame.holds_head.size()));
  for (std::size_t r = 0; r < frame.own_runs; ++r) {
    const auto from = columns.begin() + static_cast<std::ptrdiff_t>(shares.first[r]);
    split.shares.emplace_back(from, from + static_cast<std::ptrdiff_t>(frame.choice.runs[r].options.size()));
  }
  return split;
}

/// Flows and shares together, with losses taken as straight lines near their present values: leads from a
/// design near the best to the best itself, where steps along single ways zigzag.
LoopSplit polished(const Frame& frame, LoopSplit best, double reach_m3s) {
  constexpr int most_steps = 60;
  const double smallest = 1e-12;
  for (int step = 0; step < most_steps && reach_m3s > smallest && !frame.ways.empty(); ++step) {
    const Shares shares = shares_for(frame, best.flow_m3s, &best, reach_m3s);
    const auto solved = shares.programme.solve();
    LoopSplit next;
    if (solved) {
      std::vector<double> flows = best.flow_m3s;
      for (std::size_t w = 0; w < frame.ways.size(); ++w)
        for (std::size_t r = 0; r < flows.size(); ++r)
          flows[r] += solved->columns[shares.changes[w]] * frame.ways[w][r];
      next = split_at(frame, flows);
    }
    if (next.found && next.cost < best.cost)
      best = std::move(next);
    else
      reach_m3s *= 0.4;
  }
  return best;
}

/// Each way alone, and each pair added and subtracted.
std::vector<std::vector<double>> directions(const std::vector<std::vector<double>>& ways) {
  std::vector<std::vector<double>> all;
  for (std::size_t i = 0; i < ways.size(); ++i) {
    all.push_back(ways[i]);
    for (std::size_t j = 0; j < i; ++j)
      for (const double sign : {1.0, -1.0}) {
        all.push_back(ways[i]);
        for (std::size_t r = 0; r < ways[j].size(); ++r) all.back()[r] += sign * ways[j][r];
      }
  }
  return all;
}

/// Walks downhill over the flows, in ever smaller steps.
LoopSplit descend(const Frame& frame, LoopSplit best, double step_m3s, const std::function<bool()>& stop) {
  const double smallest = 1e-7 * step_m3s;
  const double first_step_m3s = step_m3s;
  const auto all = directions(frame.ways);
  int solved = 0;
  while (step_m3s > smallest && solved < most_programmes && !stop()) {
    bool better = false;
    for (const auto& way : all)
      for (const double sign : {1.0, -1.0}) {
        std::vector<double> flows = best.flow_m3s;
        for (std::size_t r = 0; r < flows.size(); ++r) flows[r] += sign * step_m3s * way[r];
        LoopSplit trial = split_at(frame, flows);
        ++solved;
        if (!trial.found || !(trial.cost < best.cost * (1.0 - 1e-13))) continue;
        best = std::move(trial);
        better = true;
      }
    if (!better) step_m3s *= 0.5;
  }
  return polished(frame, std::move(best), first_step_m3s);
}

double drawn_m3s(const Frame& frame) {
  double total = 0.0;
  for (std::size_t v = 0; v < frame.holds_head.size(); ++v) {
    const auto& node = frame.choice.there.nodes[v];
    if (!frame.holds_head[v]) total += std::max(0.0, node.draw_m3s - node.inflow_m3s);
  }
  return total;
}

}  // namespace

LoopSplit split_loops(const LoopChoice& choice, const std::vector<int>& options,
                      const std::function<bool()>& stop) {
  Frame frame = with_old_links(choice);
  if (!frame.whole) return {};
  LoopTrials trials(choice);
  trials.margin_m(options);
  const auto& state = trials.state();
  if (state.outcome != steady::Outcome::settled) return {};
  for (std::size_t v = 0; v < choice.there.nodes.size(); ++v)
    frame.holds_head.push_back(choice.there.nodes[v].fixed ||
                               (choice.is_source(v) && state.surplus_m3s[v] > 0.0));
  find_ways(frame);
  std::vector<double> flows;
  for (std::size_t r = 0; r < frame.choice.runs.size(); ++r)
    flows.push_back(state.flow_m3s[at(r < frame.own_runs ? trials.link_of(r) : frame.choice.runs[r].link)]);
  const double total = drawn_m3s(frame);
  LoopSplit best;
  // From the design's own flows, and from others near them: the cost has many local minima.
  for (const double off : {0.0, 0.05, -0.05, 0.12, -0.12, 0.25, -0.25})
    for (std::size_t l = 0; l < (off == 0.0 ? 1 : frame.ways.size()) && !stop(); ++l) {
      std::vector<double> start = flows;
      for (std::size_t r = 0; r < start.size() && !frame.ways.empty(); ++r)
        start[r] += off * total * frame.ways[l][r];
      LoopSplit here = split_at(frame, start);
      if (!here.found) continue;
      here = descend(frame, std::move(here), 0.02 * total, stop);
      if (!best.found || here.cost < best.cost) best = std::move(here);
    }
  return best;
}

LoopSplit split_near(const LoopChoice& choice, const LoopSplit& from) {
  Frame frame = with_old_links(choice);
  frame.holds_head = from.holds_head;
  find_ways(frame);
  LoopSplit here = split_at(frame, from.flow_m3s);
  return here.found ? descend(frame, std::move(here), 1e-3 * drawn_m3s(frame), [] { return false; }) : here;
}

}  // namespace runnel::sizing
