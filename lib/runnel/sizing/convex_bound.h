#pragma once
// A lower bound on the cost of a network with loops, from heads and flows together. The most that a pipe
// carries is a concave function of the head that it may lose, so shares of the pipes that a run may have fill
// the convex hull of what each alone can do. Flows balance at every place, and a run loses the head between
// its ends; that a run is all one pipe is not required. Solved as a linear programme, with tangents that
// bound the curves from above.
#include <functional>
#include <limits>

#include "runnel/sizing/loop_choice.h"

namespace runnel::sizing {

struct HullLimits {
  /// Cost of a design that works. First the least and the most head and flow of anything cheaper are found,
  /// in so many rounds, which narrows the hulls.
  double cost_of_known = std::numeric_limits<double>::infinity();
  int rounds = 0;
  std::function<bool()> stop = [] { return false; };
};

/// No design that leaves every place the head it needs costs less than this, unless `cost_of_known` is less.
/// Zero for laws of friction that have no such curve: only Hazen-Williams is handled.
double bound_by_convex_hull(const LoopChoice& choice, const HullLimits& limits = {});

}  // namespace runnel::sizing
