#include "runnel/sizing/frontier.h"

#include <algorithm>

#include "runnel/network/course.h"
#include "runnel/sizing/head_grid.h"
#include "runnel/sizing/tree_program.h"

namespace runnel::sizing {
namespace {

using network::Model;

// What is laid now may carry next to nothing.
constexpr double least_share = 0.01;
// From half of what is asked to twice.
constexpr double shares[] = {0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.35, 1.5, 1.75, 2.0};

/// The model with all that is asked in proportion, and springs that give it.
Model asking(const Model& model, double share) {
  Model scaled = model;
  for (auto& ask : scaled.asks) ask.flow = ask.flow * share;
  for (auto& joint : scaled.joints) joint.draw = joint.draw * share;
  for (auto& box : scaled.boxes) box.yield = box.yield * std::max(1.0, share);
  return scaled;
}

/// Whether one choice meets all floors of a tree.
bool carries(const Model& model, const PriceList& prices, double share, const Sizes& sizes) {
  Model scaled = asking(model, share);
  for (std::size_t l = 0; l < scaled.pipelines.size(); ++l)
    if (auto& choice = scaled.pipelines[l].choice)
      choice->among = {choice->among[static_cast<std::size_t>(sizes[l])]};
  const auto tree = design_tree(scaled, prices);
  return tree && least_head_m(tree.value->choice) <= tree.value->choice.head_m;
}

double most_share(const Model& model, const PriceList& prices, double at_least, const Sizes& sizes) {
  double low = at_least, high = 2.0 * at_least;
  if (!carries(model, prices, low, sizes)) return 0.0;
  while (high < 4.0 && carries(model, prices, high, sizes)) low = high, high *= 2.0;
  for (int i = 0; i < 24; ++i) {
    const double middle = 0.5 * (low + high);
    (carries(model, prices, middle, sizes) ? low : high) = middle;
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
  for (const auto& ask : model.asks)
    if (ask.kind == network::AskKind::flow) flow += ask.flow.si();
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
                                  const std::optional<Sizes>& present) {
  std::vector<FrontierRow> rows;
  const double asked = asked_m3s(model);
  if (asked <= 0.0) return rows;
  const PriceList prices(model);
  const auto add = [&](const Sizes& sizes, double cost, double share, bool chosen, bool is_present) {
    for (FrontierRow& row : rows)
      if (row.sizes == sizes) {
        row.chosen = row.chosen || chosen;
        row.present = row.present || is_present;
        return;
      }
    const double most = most_share(model, prices, share, sizes);
    if (most > 0.0 || is_present) rows.push_back({most * asked, most, cost, chosen, is_present, {}, sizes});
  };
  for (const double share : shares) {
    const auto tree = design_tree(asking(model, share), prices);
    if (!tree) continue;
    const TreeAnswer best = cheapest(tree.value->choice);
    if (best.outcome == TreeOutcome::proved)
      add(sizes_of(model, *tree.value, best.options), best.cost, share, false, false);
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
    const Trial trial = try_out(laid(model, row.sizes));
    if (!trial.good) row.fails = trial.reason;
  }
  return rows;
}

}  // namespace runnel::sizing
