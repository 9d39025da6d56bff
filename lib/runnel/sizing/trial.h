#pragma once
// One choice of pipes, tried in full: taps are throttled to what is asked of them, and then everything that
// `runnel flow` would say of it decides, in every setting.
#include <string>
#include <vector>

#include "runnel/network/model.h"

namespace runnel::sizing {

/// What a tap needs in front of it so that it does not take the water of others.
struct Throttle {
  std::string outlet;
  double loss = 0.0;       ///< K on the tap's own opening, the opening's own loss included
  double opening_m = 0.0;  ///< bore of the opening
  double orifice_m = 0.0;  ///< bore of a sharp hole that does the same
};

struct Trial {
  bool good = false;
  std::string setting;   ///< where it failed first
  std::string reason;    ///< code of the finding that failed it
  network::Model model;  ///< with its throttles
  std::vector<Throttle> throttles;
};

/// Tries a model whose pipes are all laid.
Trial try_out(network::Model laid);

}  // namespace runnel::sizing
