#pragma once
// A good design of a network with loops, found by trying changes of one and of two runs from several starts;
// and, where few enough designs remain, the proof that none is cheaper, by going through all of them.
#include <cstdint>
#include <functional>

#include "runnel/sizing/loop_choice.h"

namespace runnel::sizing {

struct LoopLimits {
  int kicks = 40;                ///< fresh starts from the best so far
  std::uint32_t seed = 1;        ///< of the kicks
  long most_solved = 3'000'000;  ///< designs solved in the search, and again in the proof
  std::function<bool()> stop = [] { return false; };
  /// Called now and then with the number solved so far and the cost of the best.
  std::function<void(long solved, double best)> progress = [](long, double) {};
  /// Whether to take a design whose heads and flows work; this may take much time.
  std::function<bool(const std::vector<int>& options, double cost)> accept = [](const auto&, double) {
    return true;
  };
};

struct LoopAnswer {
  bool found = false;
  LoopDesign best;
  double most_margin_m = 0.0;  ///< with the widest pipe on every run; negative: not even that works
  double bound = 0.0;          ///< no design costs less
  bool proved = false;         ///< bound is the cost
  long solved = 0;
  double gap() const { return best.cost > 0.0 ? (best.cost - bound) / best.cost : 0.0; }
};

/// The best that is found; its bound is that of the cuts (cuts.h).
LoopAnswer search_loops(const LoopChoice& choice, const LoopLimits& limits = {});

/// Goes through every design that is cheaper than `answer` and passes all cuts, so that the answer is proved,
/// or a better one proved in its place. Leaves it as it is if that would take more than the limits allow.
void prove_loops(const LoopChoice& choice, LoopAnswer& answer, const LoopLimits& limits = {});

}  // namespace runnel::sizing
