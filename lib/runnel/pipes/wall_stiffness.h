#pragma once
// How stiff the wall of a pipe is when a pressure wave runs through it, which takes a fraction of a second:
// the short-term modulus, three to five times the long-term one for plastics. The stiffer end of a range is
// the worse one, because a stiff wall makes a fast wave.
#include <string_view>

#include "runnel/pipes/pipe.h"

namespace runnel::pipes {

struct WallStiffness {
  std::string_view material;
  double softest_pa = 0.0, stiffest_pa = 0.0;  ///< short-term modulus at about 20 C, as values in use differ
  double poisson_ratio = 0.0;
  Certainty certainty = Certainty::from_memory;
  std::string_view source;
};

/// By material as a catalogue names it ("PVC", "PE100", "steel"); nullptr if none is known.
const WallStiffness* wall_stiffness(std::string_view material);

}  // namespace runnel::pipes
