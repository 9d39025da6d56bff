#pragma once
// Designs of a network with loops solved one after the other in place, each from the last.
#include "runnel/sizing/loop_choice.h"
#include "runnel/steady/kernel_solver.h"

namespace runnel::sizing {

class LoopTrials {
 public:
  /// `velocities`: water that runs too fast counts as missing head. That guides a search, but no proof may
  /// rest on it: with the true draws, a loop may send less through one of its runs.
  explicit LoopTrials(const LoopChoice& choice, bool velocities = false);

  /// Least head above what is asked [m]; below zero if some place has too little.
  double margin_m(const std::vector<int>& options);
  /// The same for one place, in the state that was found last.
  double margin_at_m(std::size_t place) const;
  long solved() const { return solved_; }
  const steady::KernelState& state() const { return solver_.state(); }
  int link_of(std::size_t run) const { return link_[run]; }

 private:
  double velocity_margin_m(const std::vector<int>& options) const;
  void lay(std::size_t run, const LoopOption& option);

  const LoopChoice& choice_;
  bool velocities_;
  std::vector<int> link_;
  steady::KernelSolver solver_;
  std::vector<int> laid_;
  long solved_ = 0;
};

}  // namespace runnel::sizing
