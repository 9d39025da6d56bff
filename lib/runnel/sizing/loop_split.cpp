#include "runnel/sizing/loop_split.h"

#include <algorithm>
#include <cmath>

#include "runnel/sizing/linear_programme.h"
#include "runnel/sizing/loop_trials.h"

namespace runnel::sizing {
namespace {

/// One way round for each run that closes a loop: the flow of which runs changes by what sign.
std::vector<std::vector<double>> loops_of(const LoopChoice& choice) {
  const std::size_t places = choice.there.nodes.size(), runs = choice.runs.size();
  std::vector<int> up_run(places, -1), depth(places, -1);
  std::vector<std::size_t> order;
  for (std::size_t v = 0; v < places; ++v)
    if (choice.there.nodes[v].fixed) {
      depth[v] = 0;
      order.push_back(v);
    }
  std::vector<bool> in_tree(runs, false);
  for (std::size_t i = 0; i < order.size(); ++i)
    for (std::size_t r = 0; r < runs; ++r) {
      const auto a = static_cast<std::size_t>(choice.runs[r].a),
                 b = static_cast<std::size_t>(choice.runs[r].b);
      if (a != order[i] && b != order[i]) continue;
      const std::size_t next = a == order[i] ? b : a;
      if (depth[next] >= 0) continue;
      depth[next] = depth[order[i]] + 1;
      up_run[next] = static_cast<int>(r);
      in_tree[r] = true;
      order.push_back(next);
    }
  std::vector<std::vector<double>> loops;
  for (std::size_t r = 0; r < runs; ++r) {
    if (in_tree[r]) continue;
    std::vector<double> loop(runs, 0.0);
    loop[r] = 1.0;
    auto from = static_cast<std::size_t>(choice.runs[r].b), to = static_cast<std::size_t>(choice.runs[r].a);
    while (from != to) {  // from b back to a along the tree
      const bool lift = depth[from] >= depth[to];
      std::size_t& here = lift ? from : to;
      const LoopRun& run = choice.runs[static_cast<std::size_t>(up_run[here])];
      const bool away = static_cast<std::size_t>(run.a) == here;  // the run leads up from here
      loop[static_cast<std::size_t>(up_run[here])] += away == lift ? 1.0 : -1.0;
      here = static_cast<std::size_t>(away ? run.b : run.a);
    }
    loops.push_back(std::move(loop));
  }
  return loops;
}

/// Walks downhill over the flows around the loops, in ever smaller steps.
LoopSplit descend(const LoopChoice& choice, const std::vector<std::vector<double>>& loops, LoopSplit best,
                  double step_m3s) {
  const double smallest = 1e-10;
  while (step_m3s > smallest) {
    bool better = false;
    // Each loop alone, and each two together and against each other.
    std::vector<std::vector<double>> ways;
    for (std::size_t i = 0; i < loops.size(); ++i) {
      ways.push_back(loops[i]);
      for (std::size_t j = 0; j < i; ++j)
        for (const double sign : {1.0, -1.0}) {
          ways.push_back(loops[i]);
          for (std::size_t r = 0; r < loops[j].size(); ++r) ways.back()[r] += sign * loops[j][r];
        }
    }
    for (const auto& way : ways)
      for (const double sign : {1.0, -1.0}) {
        std::vector<double> flows = best.flow_m3s;
        for (std::size_t r = 0; r < flows.size(); ++r) flows[r] += sign * step_m3s * way[r];
        LoopSplit trial = split_at(choice, flows);
        if (!trial.found || !(trial.cost < best.cost * (1.0 - 1e-13))) continue;
        best = std::move(trial);
        better = true;
      }
    if (!better) step_m3s *= 0.5;
  }
  return best;
}

}  // namespace

LoopSplit split_at(const LoopChoice& choice, const std::vector<double>& flow_m3s) {
  LinearProgramme programme;
  for (std::size_t v = 0; v < choice.there.nodes.size(); ++v) {
    const auto& node = choice.there.nodes[v];
    node.fixed ? programme.add_column(0.0, node.head_m, node.head_m)
               : programme.add_column(0.0, choice.least_head_m[v]);
  }
  std::vector<std::size_t> first;
  for (std::size_t r = 0; r < choice.runs.size(); ++r) {
    const LoopRun& run = choice.runs[r];
    std::vector<LinearProgramme::Entry> fall{{static_cast<std::size_t>(run.a), 1.0},
                                             {static_cast<std::size_t>(run.b), -1.0}};
    std::vector<LinearProgramme::Entry> whole;
    for (const LoopOption& option : run.options) {
      const std::size_t share = programme.add_column(option.cost, 0.0, option.pipe ? 1.0 : 0.0);
      if (whole.empty()) first.push_back(share);
      const double loss_m = option.pipe ? run.length_m * option.pipe->per_metre(flow_m3s[r]).head_m : 0.0;
      fall.push_back({share, -loss_m});
      whole.push_back({share, 1.0});
    }
    programme.add_row(fall, 0.0, 0.0);
    programme.add_row(whole, 1.0, 1.0);
  }
  LoopSplit split;
  const auto solved = programme.solve();
  if (!solved) return split;
  split.found = true;
  split.cost = solved->cost;
  split.flow_m3s = flow_m3s;
  const auto& columns = solved->columns;
  split.head_m.assign(columns.begin(),
                      columns.begin() + static_cast<std::ptrdiff_t>(choice.there.nodes.size()));
  for (std::size_t r = 0; r < choice.runs.size(); ++r) {
    const auto from = columns.begin() + static_cast<std::ptrdiff_t>(first[r]);
    split.shares.emplace_back(from, from + static_cast<std::ptrdiff_t>(choice.runs[r].options.size()));
  }
  return split;
}

LoopSplit split_loops(const LoopChoice& choice, const std::vector<int>& options) {
  LoopTrials trials(choice);
  trials.margin_m(options);
  std::vector<double> flows;
  double total = 0.0;
  for (std::size_t r = 0; r < choice.runs.size(); ++r)
    flows.push_back(trials.state().flow_m3s[static_cast<std::size_t>(trials.link_of(r))]);
  for (const auto& node : choice.there.nodes) total += node.fixed ? 0.0 : -node.inflow_m3s;
  const auto loops = loops_of(choice);
  LoopSplit best;
  // From the design's own flows, and from others about it: the cost has many hollows.
  for (const double off : {0.0, 0.05, -0.05, 0.12, -0.12, 0.25, -0.25})
    for (std::size_t l = 0; l < (off == 0.0 ? 1 : loops.size()); ++l) {
      std::vector<double> start = flows;
      for (std::size_t r = 0; r < start.size() && !loops.empty(); ++r) start[r] += off * total * loops[l][r];
      LoopSplit here = split_at(choice, start);
      if (!here.found) continue;
      here = descend(choice, loops, std::move(here), 0.02 * total);
      if (!best.found || here.cost < best.cost) best = std::move(here);
    }
  return best;
}

}  // namespace runnel::sizing
