#pragma once
// A choice of pipe in bare numbers: which of several sizes each line of a tree is laid in, when the flows are
// known. Also what may be claimed of the cheapest choice, in a form that can be checked without knowing how
// it was found (proof/check_choice.h).
#include <limits>
#include <vector>

namespace runnel::network {

/// One size that a line could be laid in, all of it.
struct PipeOption {
  double cost = 0.0;
  double loss_m = 0.0;  ///< from the upper end to the lower one at the design flow; not below zero
  /// The head that the upper end must have for the crests between the ends.
  double need_m = -std::numeric_limits<double>::infinity();
};

/// A line of the tree, or a stretch of one. Branch b ends at place b + 1.
struct TreeBranch {
  int above = 0;  ///< the place it comes from; not above b, so that upper branches stand first
  double floor_m = -std::numeric_limits<double>::infinity();  ///< least head at its lower end
  std::vector<PipeOption> options;                            ///< at least one
};

/// Place 0 is the source. Head there is `head_m` and falls along every branch by what its option loses.
struct TreeChoice {
  double head_m = 0.0;
  std::vector<TreeBranch> branches;
};

/// From `head_m` up a thing costs at least `cost`.
struct CostStep {
  double head_m = 0.0, cost = 0.0;
};

/// Claims that no choice of whole lines costs less than `cost`. For each branch: the least that it and all
/// below it can cost, by the head at its upper end; costs fall from step to step, and below the first step it
/// cannot be done at all.
struct TreeProof {
  double cost = 0.0;
  std::vector<std::vector<CostStep>> branches;
};

/// Claims that no choice costs less than `cost` even if every branch may be put together from several sizes.
/// One price a branch: what a metre of head at its lower end is worth (the dual values of the linear
/// programme).
struct SplitProof {
  double cost = 0.0;
  std::vector<double> price_per_m;
};

}  // namespace runnel::network
