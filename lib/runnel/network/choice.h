#pragma once
// A choice of pipe in bare numbers: in which of several sizes each line of a tree is laid, when the flows are
// known. Also the claims about the cheapest choice, in a form that can be checked without knowing how it was
// found (proof/check_choice.h).
#include <limits>
#include <vector>

namespace runnel::network {

/// One size in which a whole line could be laid.
struct PipeOption {
  double cost = 0.0;
  double loss_m = 0.0;  ///< from the upper end to the lower one at the design flow; not below zero
  /// The head that the upper end must have to pass the crests between the ends.
  double need_m = -std::numeric_limits<double>::infinity();
};

/// A line of the tree, or a stretch of one. Branch b ends at place b + 1.
struct TreeBranch {
  int above = 0;  ///< the place it comes from; at most b, so that upper branches come first
  double floor_m = -std::numeric_limits<double>::infinity();  ///< least head at its lower end
  std::vector<PipeOption> options;                            ///< at least one
};

/// Place 0 is the source. The head there is `head_m` and falls along every branch by the loss of its option.
struct TreeChoice {
  double head_m = 0.0;
  std::vector<TreeBranch> branches;
};

/// With a head of `head_m` or more, the least cost is `cost`.
struct CostStep {
  double head_m = 0.0, cost = 0.0;
};

/// Claims that no choice of whole lines costs less than `cost`. For each branch: the least cost of it and all
/// below it, by the head at its upper end; costs fall from step to step, and below the first step there is no
/// choice at all.
struct TreeProof {
  double cost = 0.0;
  std::vector<std::vector<CostStep>> branches;
};

/// Claims that no choice costs less than `cost` even if every branch may be composed of several sizes. One
/// price per branch: what a metre of head at its lower end is worth (the dual values of the linear
/// programme).
struct SplitProof {
  double cost = 0.0;
  std::vector<double> price_per_m;
};

}  // namespace runnel::network
