#include "runnel/sizing/tree_program.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "runnel/sizing/bounds.h"
#include "runnel/sizing/head_grid.h"

namespace runnel::sizing {
namespace {

using network::CostStep;
using network::TreeBranch;
using network::TreeChoice;
using Steps = std::vector<CostStep>;

double cost_of(const TreeChoice& choice, const std::vector<int>& options) {
  double sum = 0.0;
  for (std::size_t b = 0; b < options.size(); ++b)
    sum += choice.branches[b].options[static_cast<std::size_t>(options[b])].cost;
  return sum;
}

/// The option of each branch that needs least head above it.
std::vector<int> widest_that_reach(const TreeChoice& choice) {
  std::vector<int> options(choice.branches.size());
  std::vector<double> asked_m(choice.branches.size() + 1, -endless);
  for (std::size_t b = choice.branches.size(); b-- > 0;) {
    const TreeBranch& branch = choice.branches[b];
    const double end_m = std::max(asked_m[b + 1], branch.floor_m);
    double least_m = endless;
    for (std::size_t k = 0; k < branch.options.size(); ++k) {
      const double asks_m = std::max(branch.options[k].need_m, end_m + branch.options[k].loss_m);
      const bool cheaper = asks_m == least_m &&
                           branch.options[k].cost < branch.options[static_cast<std::size_t>(options[b])].cost;
      if (asks_m < least_m || cheaper || k == 0) options[b] = static_cast<int>(k);
      least_m = std::min(least_m, asks_m);
    }
    double& above_m = asked_m[static_cast<std::size_t>(branch.above)];
    above_m = std::max(above_m, least_m);
  }
  return options;
}

/// The sum of functions that fall in steps: it steps where any of them does.
Steps sum_of(const std::vector<const Steps*>& parts, double floor_m) {
  if (parts.empty()) return {{floor_m, 0.0}};
  double from_m = floor_m;
  for (const Steps* part : parts) {
    if (part->empty()) return {};
    from_m = std::max(from_m, part->front().head_m);
  }
  std::vector<std::size_t> next(parts.size(), 0);
  std::vector<double> heads;
  for (const Steps* part : parts)
    for (const CostStep& step : *part)
      if (step.head_m > from_m) heads.push_back(step.head_m);
  std::sort(heads.begin(), heads.end());
  heads.erase(std::unique(heads.begin(), heads.end()), heads.end());
  heads.insert(heads.begin(), from_m);
  Steps sum;
  for (const double head_m : heads) {
    double cost = 0.0;
    for (std::size_t p = 0; p < parts.size(); ++p) {
      while (next[p] < parts[p]->size() && (*parts[p])[next[p]].head_m <= head_m) ++next[p];
      cost += (*parts[p])[next[p] - 1].cost;
    }
    sum.push_back({head_m, cost});
  }
  return sum;
}

/// Keeps only the steps that no other beats in both head and cost.
void keep_unbeaten(Steps& steps) {
  std::sort(steps.begin(), steps.end(), [](const CostStep& a, const CostStep& b) {
    return a.head_m < b.head_m || (a.head_m == b.head_m && a.cost < b.cost);
  });
  double least = endless;
  std::erase_if(steps, [&](const CostStep& step) {
    if (!(step.cost < least)) return true;
    least = step.cost;
    return false;
  });
}

class Programme {
 public:
  Programme(const TreeChoice& choice, const HeadGrid& grid, double best, std::size_t most)
      : choice_(choice), grid_(grid), best_(best), most_(most), steps_(choice.branches.size()) {}

  /// False if it would have to keep too many steps.
  bool run() {
    std::size_t kept = 0;
    for (std::size_t b = choice_.branches.size(); b-- > 0;) {
      const TreeBranch& branch = choice_.branches[b];
      const Steps end = sum_of(steps_below(b + 1), branch.floor_m);
      Steps& steps = steps_[b];
      for (const auto& option : branch.options)
        for (const CostStep& step : end) {
          const double head_m = std::max(option.need_m, step.head_m + option.loss_m);
          const double cost = option.cost + step.cost;
          if (head_m <= choice_.head_m + nanometre && may_be_cheapest(b, head_m, cost))
            steps.push_back({head_m, cost});
        }
      keep_unbeaten(steps);
      kept += steps.size();
      if (kept > most_ || end.size() > most_) return false;
    }
    return true;
  }

  /// A cheaper choice than the one it was given, if there is one.
  std::optional<std::vector<int>> cheaper() const {
    const Steps whole = sum_of(steps_below(0), -endless);
    double least = endless;
    for (const CostStep& step : whole)
      if (step.head_m <= choice_.head_m + nanometre) least = std::min(least, step.cost);
    if (!(least < best_ - rounding())) return std::nullopt;
    return trace();
  }

  /// For each branch, the least that it and all below it cost, even counting what was forgotten.
  std::vector<Steps> claims() const {
    std::vector<Steps> out(steps_.size());
    for (std::size_t b = 0; b < out.size(); ++b) out[b] = claim(b);
    return out;
  }

 private:
  double rounding() const { return 1e-10 * std::max(1.0, std::fabs(best_)); }

  bool may_be_cheapest(std::size_t b, double head_m, double cost) const {
    return cost + grid_.outside(b, grid_.cell_of(head_m)) < best_ - rounding();
  }

  std::vector<const Steps*> steps_below(std::size_t place) const {
    std::vector<const Steps*> out;
    for (const std::size_t b : grid_.below()[place]) out.push_back(&steps_[b]);
    return out;
  }

  static const CostStep* at(const Steps& steps, double head_m) {
    const auto next = std::upper_bound(steps.begin(), steps.end(), head_m + nanometre,
                                       [](double head, const CostStep& step) { return head < step.head_m; });
    return next == steps.begin() ? nullptr : &*std::prev(next);
  }

  /// From the source down, each branch in the option that the steps below it allow for least.
  std::vector<int> trace() const {
    std::vector<int> options;
    std::vector<double> head_m{choice_.head_m};
    for (std::size_t b = 0; b < choice_.branches.size(); ++b) {
      const TreeBranch& branch = choice_.branches[b];
      const double above_m = head_m[static_cast<std::size_t>(branch.above)];
      double least = endless;
      options.push_back(0);
      for (std::size_t k = 0; k < branch.options.size(); ++k) {
        const auto& option = branch.options[k];
        const double end_m = above_m - option.loss_m;
        if (above_m < option.need_m - nanometre || end_m < branch.floor_m - nanometre) continue;
        double cost = option.cost;
        for (const Steps* steps : steps_below(b + 1)) {
          const CostStep* step = at(*steps, end_m);
          cost += step ? step->cost : endless;
        }
        if (cost < least) {
          least = cost;
          options.back() = static_cast<int>(k);
        }
      }
      const auto taken = static_cast<std::size_t>(options.back());
      head_m.push_back(above_m - branch.options[taken].loss_m);
    }
    return options;
  }

  /// What was forgotten costs, with all else, at least as much as the best: the best less all else bounds it.
  Steps claim(std::size_t b) const {
    const Steps& kept = steps_[b];
    Steps out;
    std::size_t next = 0;
    double cost = endless;
    const auto add = [&](double head_m, double value) {
      if (!(value < (out.empty() ? endless : out.back().cost))) return;
      out.push_back({head_m, value});
    };
    for (int cell = 0; cell < grid_.cells(); ++cell) {
      const double inside = grid_.inside(b, cell);
      const double left = best_ - grid_.outside(b, cell);
      double from_m = cell == 0 ? -endless : grid_.lower_m(cell);
      const double to_m = cell + 1 == grid_.cells() ? endless : grid_.lower_m(cell + 1);
      while (true) {
        while (next < kept.size() && kept[next].head_m <= from_m) cost = kept[next++].cost;
        add(from_m, std::max(inside, std::min(cost, left)));
        if (next >= kept.size() || !(kept[next].head_m < to_m)) break;
        from_m = kept[next].head_m;
      }
    }
    return out;
  }

  const TreeChoice& choice_;
  const HeadGrid& grid_;
  double best_;
  std::size_t most_;
  std::vector<Steps> steps_;
};

std::vector<double> heads_of(const TreeChoice& choice, const std::vector<int>& options) {
  std::vector<double> head_m{choice.head_m};
  for (std::size_t b = 0; b < options.size(); ++b)
    head_m.push_back(head_m[static_cast<std::size_t>(choice.branches[b].above)] -
                     choice.branches[b].options[static_cast<std::size_t>(options[b])].loss_m);
  return head_m;
}

}  // namespace

TreeAnswer cheapest(const TreeChoice& choice, const TreeLimits& limits) {
  TreeAnswer answer;
  answer.least_head_m = least_head_m(choice);
  if (answer.least_head_m > choice.head_m) return answer;
  answer.options = widest_that_reach(choice);
  answer.cost = cost_of(choice, answer.options);
  answer.outcome = TreeOutcome::not_proved;
  for (int cells = limits.cells; cells <= limits.most_cells; cells *= 4) {
    const HeadGrid grid(choice, cells);
    if (!grid.design().empty() && cost_of(choice, grid.design()) < answer.cost) {
      answer.options = grid.design();
      answer.cost = cost_of(choice, answer.options);
    }
    answer.bound = std::max(answer.bound, grid.bound());
    Programme programme(choice, grid, answer.cost, limits.most_steps);
    if (!programme.run()) continue;
    if (auto options = programme.cheaper()) {
      answer.options = std::move(*options);
      answer.cost = cost_of(choice, answer.options);
    }
    answer.outcome = TreeOutcome::proved;
    answer.bound = answer.cost;
    answer.proof = {answer.cost, programme.claims()};
    break;
  }
  answer.head_m = heads_of(choice, answer.options);
  return answer;
}

}  // namespace runnel::sizing
