#include "runnel/sizing/in_order_of_cost.h"

#include <algorithm>
#include <cmath>

#include "runnel/sizing/bounds.h"

namespace runnel::sizing {
namespace {

using network::CostStep;

constexpr std::size_t most_open = 20'000'000;

double least_cost(const std::vector<CostStep>& steps, double head_m) {
  const auto next = std::upper_bound(steps.begin(), steps.end(), head_m + nanometre,
                                     [](double head, const CostStep& step) { return head < step.head_m; });
  return next == steps.begin() ? endless : std::prev(next)->cost;
}

}  // namespace

InOrderOfCost::InOrderOfCost(const network::TreeChoice& choice, const TreeAnswer& answer)
    : choice_(choice), proof_(answer.proof), below_(choice.branches.size() + 1) {
  for (std::size_t b = 0; b < choice.branches.size(); ++b)
    below_[static_cast<std::size_t>(choice.branches[b].above)].push_back(b);
  open({});
}

double InOrderOfCost::bound() const { return open_.empty() ? endless : open_.top().bound; }

std::optional<InOrderOfCost::Found> InOrderOfCost::next(std::size_t most_steps) {
  tired_ = false;
  for (std::size_t i = 0; !open_.empty(); ++i) {
    if (i >= most_steps || open_.size() > most_open) {
      tired_ = true;
      return std::nullopt;
    }
    const int step = open_.top().step;
    open_.pop();
    const Step& chosen = steps_[static_cast<std::size_t>(step)];
    if (static_cast<std::size_t>(chosen.chosen) == choice_.branches.size())
      return Found{chosen.cost, options_of(step)};
    expand(step);
  }
  return std::nullopt;
}

std::vector<int> InOrderOfCost::options_of(int step) const {
  std::vector<int> options;
  for (; steps_[static_cast<std::size_t>(step)].before >= 0;
       step = steps_[static_cast<std::size_t>(step)].before)
    options.push_back(steps_[static_cast<std::size_t>(step)].option);
  std::reverse(options.begin(), options.end());
  return options;
}

void InOrderOfCost::expand(int step) {
  const std::vector<int> options = options_of(step);
  std::vector<double> head_m{choice_.head_m};
  for (std::size_t b = 0; b < options.size(); ++b)
    head_m.push_back(head_m[static_cast<std::size_t>(choice_.branches[b].above)] -
                     choice_.branches[b].options[static_cast<std::size_t>(options[b])].loss_m);
  const std::size_t here = options.size();
  const network::TreeBranch& branch = choice_.branches[here];
  // What is still to be chosen: all branches that begin at a place already reached, except this one.
  double rest = 0.0;
  for (std::size_t place = 0; place < head_m.size(); ++place)
    for (const std::size_t b : below_[place])
      if (b > here) rest += least_cost(proof_.branches[b], head_m[place]);
  const Step from = steps_[static_cast<std::size_t>(step)];
  const double above_m = head_m[static_cast<std::size_t>(branch.above)];
  for (std::size_t k = 0; k < branch.options.size(); ++k) {
    const auto& option = branch.options[k];
    const double end_m = above_m - option.loss_m;
    if (above_m < option.need_m - nanometre || end_m < branch.floor_m - nanometre) continue;
    double bound = from.cost + option.cost + rest;
    for (const std::size_t b : below_[here + 1]) bound += least_cost(proof_.branches[b], end_m);
    if (!std::isfinite(bound)) continue;
    // A bound never falls on the way down; rounding of the sums may make it seem to.
    open({step, static_cast<int>(k), from.chosen + 1, from.cost + option.cost, std::max(bound, from.bound)});
  }
}

void InOrderOfCost::open(const Step& step) {
  steps_.push_back(step);
  open_.push({step.bound, step.chosen, static_cast<int>(steps_.size()) - 1});
}

}  // namespace runnel::sizing
