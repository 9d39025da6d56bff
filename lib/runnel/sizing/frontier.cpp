#include "runnel/sizing/frontier.h"

#include <algorithm>

#include "runnel/network/course.h"
#include "runnel/network/drawn_needs.h"
#include "runnel/sizing/design_loops.h"
#include "runnel/sizing/head_grid.h"
#include "runnel/sizing/loop_search.h"
#include "runnel/sizing/loop_trials.h"
#include "runnel/sizing/tree_program.h"

namespace runnel::sizing {
namespace {

using network::Model;

// What is laid now may carry next to nothing.
constexpr double least_share = 0.01;

/// The model with all that is asked scaled by `share`, and springs that give it.
Model asking(const Model& model, double share) {
  Model scaled = model;
  for (auto& ask : scaled.asks) ask.flow = ask.flow * share;
  for (auto& joint : scaled.joints) joint.draw = joint.draw * share;
  network::each_place(scaled, [share](auto& place) {
    if constexpr (requires { place.draws; })
      for (network::Draw& draw : place.draws) draw.flow = draw.flow * share;
  });
  for (auto& box : scaled.boxes) box.yield = box.yield * std::max(1.0, share);
  return scaled;
}

/// What differs between trees and systems with loops: the cheapest for what is asked, and what a choice
/// carries.
struct Ways {
  std::function<std::optional<Sizes>(const Model& scaled)> cheapest;
  std::function<bool(const Model& scaled, const Sizes& sizes)> carries;
  std::vector<double> shares;
  int halvings = 24;
};

Ways of_tree(const PriceList& prices) {
  Ways ways;
  ways.shares = {0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.35, 1.5, 1.75, 2.0};
  ways.cheapest = [&prices](const Model& scaled) -> std::optional<Sizes> {
    const auto tree = design_tree(scaled, prices);
    if (!tree) return std::nullopt;
    const TreeAnswer best = cheapest(tree.value->choice);
    if (best.outcome != TreeOutcome::proved) return std::nullopt;
    return sizes_of(scaled, *tree.value, best.options);
  };
  ways.carries = [&prices](Model scaled, const Sizes& sizes) {
    for (std::size_t l = 0; l < scaled.pipelines.size(); ++l)
      if (auto& choice = scaled.pipelines[l].choice)
        choice->among = {choice->among[static_cast<std::size_t>(sizes[l])]};
    const auto tree = design_tree(scaled, prices);
    return tree && least_head_m(tree.value->choice) <= tree.value->choice.head_m;
  };
  return ways;
}

/// The options that stand for sizes of the lines; nothing if one of them is no option.
std::optional<std::vector<int>> options_of(const DesignLoops& loops, const Sizes& sizes) {
  std::vector<int> options;
  for (std::size_t r = 0; r < loops.lines.size(); ++r) {
    const auto& all = loops.sizes[r];
    const auto found = std::find(all.begin(), all.end(), sizes[static_cast<std::size_t>(loops.lines[r])]);
    if (found == all.end()) return std::nullopt;
    options.push_back(static_cast<int>(found - all.begin()));
  }
  return options;
}

Ways with_loops(const PriceList& prices, const std::function<bool()>& stop) {
  constexpr long most_solved = 20'000;  // a second or two with some forty lines
  Ways ways;
  ways.shares = {0.5, 0.75, 1.0, 1.25, 1.5, 2.0};
  ways.halvings = 10;
  ways.cheapest = [&prices, stop](const Model& scaled) -> std::optional<Sizes> {
    const auto loops = design_loops(scaled, prices);
    if (!loops) return std::nullopt;
    LoopLimits limits;
    limits.kicks = 5;
    limits.most_solved = most_solved;
    limits.stop = stop;
    const LoopAnswer best = search_loops(loops.value->choice, limits);
    if (!best.found) return std::nullopt;
    return sizes_of(scaled, *loops.value, best.best.options);
  };
  ways.carries = [&prices](const Model& scaled, const Sizes& sizes) {
    const auto loops = design_loops(scaled, prices);
    const auto options = loops ? options_of(*loops.value, sizes) : std::nullopt;
    return options && LoopTrials(loops.value->choice, true).margin_m(*options) >= 0.0;
  };
  return ways;
}

double most_share(const Model& model, const Ways& ways, double at_least, const Sizes& sizes) {
  const auto carries = [&](double share) { return ways.carries(asking(model, share), sizes); };
  double low = at_least, high = 2.0 * at_least;
  if (!carries(low)) return 0.0;
  while (high < 4.0 && carries(high)) low = high, high *= 2.0;
  for (int i = 0; i < ways.halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (carries(middle) ? low : high) = middle;
  }
  return low;
}

double cost_of(const Model& model, const PriceList& prices, const Sizes& sizes) {
  double cost = 0.0;
  for (std::size_t l = 0; l < sizes.size(); ++l) {
    const network::Pipeline& line = model.pipelines[l];
    if (!line.choice) continue;
    const network::Course course(line.survey, line.parts, line.pipes, line.along);
    const auto per_m = prices.per_metre(line.choice->among[static_cast<std::size_t>(sizes[l])]);
    for (const auto& point : course.points()) cost += per_m.value_or(0.0) * point.length_m;
  }
  return cost;
}

double asked_m3s(const Model& model) {
  double flow = 0.0;
  for (const auto& ask : network::with_draws_asked(model).asks)
    if (ask.kind == network::AskKind::flow) flow += ask.flow.si();
  for (const auto& joint : model.joints) {
    const auto asked_there = [&](const network::Ask& ask) {
      return ask.kind == network::AskKind::flow && ask.at == joint.name;
    };
    if (std::none_of(model.asks.begin(), model.asks.end(), asked_there)) flow += joint.draw.si();
  }
  return flow;
}

}  // namespace

std::optional<Sizes> sizes_laid(const Model& model, const Model& laid) {
  Sizes sizes(model.pipelines.size(), 0);
  for (std::size_t l = 0; l < sizes.size(); ++l) {
    const auto& choice = model.pipelines[l].choice;
    if (!choice) continue;
    const network::Pipeline* line = laid.pipeline(model.pipelines[l].name);
    if (!line || line->choice || line->pipes.size() != 1) return std::nullopt;
    const auto same = std::find_if(choice->among.begin(), choice->among.end(), [&](const auto& pipe) {
      return pipe.name == line->pipes.front().pipe.name;
    });
    if (same == choice->among.end()) return std::nullopt;
    sizes[l] = static_cast<int>(same - choice->among.begin());
  }
  return sizes;
}

std::vector<FrontierRow> frontier(const Model& model, const SizeAnswer& answer,
                                  const std::optional<Sizes>& present, const std::function<bool()>& stop) {
  std::vector<FrontierRow> rows;
  const double asked = asked_m3s(model);
  if (asked <= 0.0) return rows;
  const PriceList prices(model);
  const Ways ways = answer.loops ? with_loops(prices, stop) : of_tree(prices);
  const auto add = [&](const Sizes& sizes, double cost, double share, bool chosen, bool is_present) {
    for (FrontierRow& row : rows)
      if (row.sizes == sizes) {
        row.chosen = row.chosen || chosen;
        row.present = row.present || is_present;
        return;
      }
    const double most = most_share(model, ways, share, sizes);
    if (most > 0.0 || is_present) rows.push_back({most * asked, most, cost, chosen, is_present, {}, {}, sizes});
  };
  for (const double share : ways.shares) {
    if (stop()) break;
    if (const auto sizes = ways.cheapest(asking(model, share)))
      add(*sizes, cost_of(model, prices, *sizes), share, false, false);
  }
  if (answer.outcome == SizeOutcome::chosen) {
    Sizes sizes(model.pipelines.size(), 0);
    for (std::size_t l = 0; l < sizes.size(); ++l)
      if (const auto& choice = model.pipelines[l].choice)
        for (std::size_t k = 0; k < choice->among.size(); ++k)
          if (choice->among[k].name == answer.lines[l].pipe) sizes[l] = static_cast<int>(k);
    add(sizes, answer.cost, 1.0, true, false);
  }
  if (present) add(*present, cost_of(model, prices, *present), least_share, false, true);
  std::erase_if(rows, [&](const FrontierRow& row) {
    return !row.chosen && !row.present &&
           std::any_of(rows.begin(), rows.end(), [&](const FrontierRow& other) {
             return other.sizes != row.sizes && other.cost <= row.cost && other.flow_m3s >= row.flow_m3s;
           });
  });
  std::sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.cost < b.cost; });
  for (FrontierRow& row : rows) {
    if (row.chosen) continue;  // it was tried
    if (stop()) break;
    const Trial trial = try_out(laid(model, row.sizes));
    if (!trial.good) {
      row.fails = trial.reason;
      row.fails_at = trial.at;
    }
    if (trial.good && trial.surge && !answer.trial.surge) row.fails = surge_above_rating;
  }
  if (stop()) std::erase_if(rows, [](const FrontierRow& row) { return !row.chosen; });  // not all were tried
  return rows;
}

}  // namespace runnel::sizing
