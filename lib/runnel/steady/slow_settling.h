#pragma once
// For the rare system on which plain steps circle (many crests, dry places and valves at once): every place
// gets a little open storage and the water is let settle in time, by implicit steps that grow. Such a system
// only ever comes closer to its rest (its flow is a contraction, since what leaves one place enters another
// and rises with the head there: [crandall-liggett1971]), and a step is as easy as it is short.
#include "runnel/steady/newton_steps.h"

namespace runnel::steady {

class SlowSettling {
 public:
  explicit SlowSettling(NewtonSteps& steps) : steps_(steps) {}
  /// Allocates what a run could want.
  void prepare();
  /// From rest; false if the state is not settled at the end.
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
