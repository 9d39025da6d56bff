#pragma once
// The best that any plastic pipe of the catalogue is: a described pipe that is better stands on its word.
#include "runnel/pipes/pipe.h"

namespace runnel::pipes {

/// PE100 of SDR 7.4 [iso-4427-2].
inline constexpr double strongest_bar = 25.0;

/// Whether a pipe is written smoother than plastic pipe is: 0.0015 mm [binder1973], C = 150 [illinois-77-906;
/// from memory]. Printed roughness is rounded, so that only a pipe that is a third smoother counts.
inline bool smoother_than_any(const Pipe& pipe) {
  constexpr double smoothest_m = 1.5e-6, as_smooth = 1.5, highest_c = 150.0, same_pipe = 0.01;
  const bool by_roughness = pipe.roughness > Length{} && pipe.roughness.metres() * as_smooth < smoothest_m;
  return by_roughness || pipe.hazen_c > highest_c * (1.0 + same_pipe);
}

/// Whether it is rated for more than the strongest of them, to a hundredth.
inline bool stronger_than_any(const Pipe& pipe) {
  return pipe.rating.si() > Pressure::bar(strongest_bar).si() * 1.01;
}

}  // namespace runnel::pipes
