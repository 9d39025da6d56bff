#include "runnel/sizing/head_grid.h"

#include <algorithm>
#include <cmath>

#include "runnel/sizing/bounds.h"

namespace runnel::sizing {
namespace {

using network::TreeBranch;
using network::TreeChoice;

/// The lowest head that anything asks for.
double lowest_m(const TreeChoice& choice) {
  double lowest = choice.head_m - 1.0;
  for (const TreeBranch& branch : choice.branches) {
    if (std::isfinite(branch.floor_m)) lowest = std::min(lowest, branch.floor_m);
    for (const auto& option : branch.options)
      if (std::isfinite(option.need_m)) lowest = std::min(lowest, option.need_m);
  }
  return lowest;
}

}  // namespace

HeadGrid::HeadGrid(const TreeChoice& choice, int cells)
    : choice_(choice), cells_(cells), base_m_(lowest_m(choice)), below_(choice.branches.size() + 1) {
  cell_m_ = (choice.head_m - base_m_) / (cells - 1);
  for (std::size_t b = 0; b < choice.branches.size(); ++b)
    below_[static_cast<std::size_t>(choice.branches[b].above)].push_back(b);
  bound_inside();
  bound_outside();
  round_down();
}

int HeadGrid::clamped(double position) const {
  if (!(position > 0.0)) return 0;
  return position >= cells_ - 1 ? cells_ - 1 : static_cast<int>(position);
}

// From the ends up, taking the upper edge of a cell for every head in it.
void HeadGrid::bound_inside() {
  const std::size_t cells = static_cast<std::size_t>(cells_);
  inside_.assign(choice_.branches.size(), Costs(cells, endless));
  Costs end(cells);
  for (std::size_t b = choice_.branches.size(); b-- > 0;) {
    const TreeBranch& branch = choice_.branches[b];
    for (std::size_t i = 0; i < cells; ++i)
      end[i] = lower_m(static_cast<int>(i) + 1) > branch.floor_m ? 0.0 : endless;
    for (const std::size_t next : below_[b + 1])
      for (std::size_t i = 0; i < cells; ++i) end[i] += inside_[next][i];
    for (const auto& option : branch.options)
      for (std::size_t i = 0; i < cells; ++i) {
        const double head_m = lower_m(static_cast<int>(i) + 1);
        if (head_m <= option.need_m) continue;
        const double rest = end[static_cast<std::size_t>(cell_not_below(head_m - option.loss_m))];
        // A head that falls below the grid is judged as one of its first cell, which costs no more.
        inside_[b][i] = std::min(inside_[b][i], option.cost + rest);
      }
  }
  const auto top = static_cast<std::size_t>(cell_not_below(choice_.head_m));
  for (const std::size_t b : below_[0]) bound_ += inside_[b][top];
}

// From the source down, taking the lower edge of a cell for the head needed; the first cell has none.
void HeadGrid::bound_outside() {
  const std::size_t cells = static_cast<std::size_t>(cells_);
  outside_.assign(choice_.branches.size(), Costs(cells));
  std::vector<Costs> at(choice_.branches.size() + 1);
  at[0].assign(cells, 0.0);
  for (std::size_t place = 0; place < at.size(); ++place) {
    const Costs& here = at[place];
    Costs sum(here);
    for (const std::size_t b : below_[place])
      for (std::size_t i = 0; i < cells; ++i) sum[i] += inside_[b][i];
    for (const std::size_t b : below_[place]) {
      Costs& out = outside_[b];
      double least = endless;
      for (std::size_t i = cells; i-- > 0;) {
        // Summed afresh over the others where the sum is infinite: infinity less infinity says nothing.
        double others = sum[i] - inside_[b][i];
        if (!std::isfinite(others)) {
          others = here[i];
          for (const std::size_t other : below_[place])
            if (other != b) others += inside_[other][i];
        }
        least = std::min(least, others);
        out[i] = least;
      }
      const TreeBranch& branch = choice_.branches[b];
      Costs& lower = at[b + 1];
      lower.assign(cells, endless);
      for (const auto& option : branch.options)
        for (std::size_t i = 0; i < cells; ++i) {
          const double asked_m =
              i == 0 ? option.need_m : std::max(option.need_m, lower_m(static_cast<int>(i)) + option.loss_m);
          if (asked_m > choice_.head_m + cell_m_) continue;
          lower[i] = std::min(lower[i], option.cost + out[static_cast<std::size_t>(cell_not_above(asked_m))]);
        }
    }
    at[place] = {};
  }
}

// A choice that surely works: from the ends up, taking the lower edge of a cell for every head in it.
void HeadGrid::round_down() {
  const std::size_t cells = static_cast<std::size_t>(cells_);
  std::vector<Costs> cost(choice_.branches.size(), Costs(cells, endless));
  std::vector<std::vector<int>> best(choice_.branches.size(), std::vector<int>(cells, -1));
  Costs end(cells);
  for (std::size_t b = choice_.branches.size(); b-- > 0;) {
    const TreeBranch& branch = choice_.branches[b];
    for (std::size_t i = 0; i < cells; ++i)
      end[i] = lower_m(static_cast<int>(i)) >= branch.floor_m ? 0.0 : endless;
    for (const std::size_t next : below_[b + 1])
      for (std::size_t i = 0; i < cells; ++i) end[i] += cost[next][i];
    for (std::size_t k = 0; k < branch.options.size(); ++k)
      for (std::size_t i = 0; i < cells; ++i) {
        const auto& option = branch.options[k];
        const double head_m = lower_m(static_cast<int>(i)), left_m = head_m - option.loss_m;
        if (head_m < option.need_m || left_m < base_m_) continue;
        const double sum = option.cost + end[static_cast<std::size_t>(cell_not_above(left_m))];
        if (sum < cost[b][i]) {
          cost[b][i] = sum;
          best[b][i] = static_cast<int>(k);
        }
      }
  }
  take_design(best);
}

void HeadGrid::take_design(const std::vector<std::vector<int>>& choices) {
  std::vector<double> head_m{choice_.head_m};
  for (std::size_t b = 0; b < choice_.branches.size(); ++b) {
    const double above_m = head_m[static_cast<std::size_t>(choice_.branches[b].above)];
    const int option = choices[b][static_cast<std::size_t>(cell_not_above(above_m))];
    if (option < 0) {
      design_.clear();
      return;
    }
    design_.push_back(option);
    head_m.push_back(above_m - choice_.branches[b].options[static_cast<std::size_t>(option)].loss_m);
  }
}

double least_head_m(const TreeChoice& choice) {
  std::vector<double> asked_m(choice.branches.size() + 1, -endless);
  for (std::size_t b = choice.branches.size(); b-- > 0;) {
    const TreeBranch& branch = choice.branches[b];
    const double end_m = std::max(asked_m[b + 1], branch.floor_m);
    double least_m = endless;
    for (const auto& option : branch.options)
      least_m = std::min(least_m, std::max(option.need_m, end_m + option.loss_m));
    double& above_m = asked_m[static_cast<std::size_t>(branch.above)];
    above_m = std::max(above_m, least_m);
  }
  return asked_m[0];
}

}  // namespace runnel::sizing
