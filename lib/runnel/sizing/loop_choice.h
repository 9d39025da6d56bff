#pragma once
// A choice of pipe for a network with loops in bare numbers: fixed draws, one size a run, and the least head
// that every place must keep.
#include <optional>
#include <vector>

#include "runnel/losses/friction.h"
#include "runnel/steady/kernel.h"

namespace runnel::sizing {

struct LoopOption {
  double cost = 0.0;
  std::optional<losses::PipeFriction> pipe;  ///< none: nothing is laid
};

struct LoopRun {
  int a = 0, b = 0;
  double length_m = 0.0;
  std::vector<LoopOption> options;  ///< from the narrowest to the widest, costs rising
};

struct LoopChoice {
  /// Places, of which the fixed ones are sources, and links that are there already.
  steady::Kernel there;
  std::vector<LoopRun> runs;
  std::vector<double> least_head_m;  ///< one a place; not asked of sources
};

/// A choice as it turns out.
struct LoopDesign {
  std::vector<int> options;  ///< one a run
  double cost = 0.0;
  double margin_m = 0.0;  ///< least head above what is asked, over all places
};

double cost_of(const LoopChoice& choice, const std::vector<int>& options);

/// Flow of a run at a loss of head [m3/s].
double flow_at(const losses::PipeFriction& pipe, double length_m, double loss_m);

}  // namespace runnel::sizing
