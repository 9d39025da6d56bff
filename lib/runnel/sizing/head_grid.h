#pragma once
// Bounds on the cost of a tree, with heads known only to a cell of a grid: quick to find, and each on the
// safe side. They let the exact search (tree_program.h) skip what can no longer be the cheapest.
#include <vector>

#include "runnel/network/choice.h"

namespace runnel::sizing {

class HeadGrid {
 public:
  HeadGrid(const network::TreeChoice& choice, int cells);

  int cells() const { return cells_; }
  /// The cell that a head lies in; heads below the grid count as in its first cell.
  int cell_of(double head_m) const { return clamped(position(head_m)); }
  double lower_m(int cell) const { return base_m_ + cell * cell_m_; }

  /// A lower bound on what branch b and all below it cost with any head of the cell at its upper end.
  double inside(std::size_t b, int cell) const { return inside_[b][static_cast<std::size_t>(cell)]; }
  /// A lower bound on what all else costs if a head of that cell must stand at the upper end of branch b.
  double outside(std::size_t b, int cell) const { return outside_[b][static_cast<std::size_t>(cell)]; }
  /// A lower bound on the cost of the whole tree; infinite if it cannot be built.
  double bound() const { return bound_; }
  /// One option for each branch that surely works, found with heads rounded down; empty if none was found.
  const std::vector<int>& design() const { return design_; }

  /// Branches that begin at each place.
  const std::vector<std::vector<std::size_t>>& below() const { return below_; }

 private:
  using Costs = std::vector<double>;  ///< one for each cell

  double position(double head_m) const { return (head_m - base_m_) / cell_m_; }
  int clamped(double position) const;
  int cell_not_below(double head_m) const { return clamped(position(head_m) + 1e-9); }
  int cell_not_above(double head_m) const { return clamped(position(head_m) - 1e-9); }
  void bound_inside();
  void bound_outside();
  void round_down();
  void take_design(const std::vector<std::vector<int>>& choices);

  const network::TreeChoice& choice_;
  int cells_;
  double base_m_ = 0.0, cell_m_ = 1.0, bound_ = 0.0;
  std::vector<std::vector<std::size_t>> below_;
  std::vector<Costs> inside_, outside_;
  std::vector<int> design_;
};

/// The least head at the source with which the tree can be built at all, each branch in the option that needs
/// least.
double least_head_m(const network::TreeChoice& choice);

}  // namespace runnel::sizing
