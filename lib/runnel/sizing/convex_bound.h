#pragma once
// A bound on the cost of a network with loops from heads and flows together. The most that a pipe carries is
// a concave function of the head that it may lose, so the pipes of one run that are chosen from, each in a
// share, fill the convex hull of what each alone can do; flows balance at every place, and a run has the head
// between its ends. That shares are whole is left out. Solved as a linear programme, the curves from above by
// tangents.
#include <functional>
#include <limits>

#include "runnel/sizing/loop_choice.h"

namespace runnel::sizing {

struct HullLimits {
  /// Of a design that does: the least and the most head and flow that anything cheaper could have are worked
  /// out first, which narrows the hulls; so many rounds of it.
  double cost_of_known = std::numeric_limits<double>::infinity();
  int rounds = 0;
  std::function<bool()> stop = [] { return false; };
};

/// No design that leaves every place the head it is asked for costs less, unless `cost_of_known` itself is
/// less. Zero where the law of friction has no such curve: only Hazen-Williams is taken.
double bound_by_convex_hull(const LoopChoice& choice, const HullLimits& limits = {});

}  // namespace runnel::sizing
