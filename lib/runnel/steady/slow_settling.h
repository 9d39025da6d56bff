#pragma once
// For the rare system on which plain steps circle (many crests, dry places and valves at once): every place
// gets a little open storage and the water is left to settle in time, by implicit steps that grow. Such a
// system only ever comes closer to rest (its flow is a contraction, since what leaves one place enters
// another and rises with the head there: [crandall-liggett1971]), and the shorter a step, the easier it is.
#include "runnel/steady/newton_steps.h"

namespace runnel::steady {

class SlowSettling {
 public:
  explicit SlowSettling(NewtonSteps& steps) : steps_(steps) {}
  /// Allocates all that a run usually needs.
  void prepare();
  /// Begins from rest; returns false if the state is not settled at the end.
  bool run();

 private:
  bool try_without_storage();
  void keep();
  void give_back();

  NewtonSteps& steps_;
  std::vector<double> head_, low_, flow_;  ///< at the end of the last step in time
  std::vector<Hold> hold_;
};

}  // namespace runnel::steady
