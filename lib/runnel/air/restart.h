#pragma once
// Starting a line whose outlet is under water before the filling begins.
//
// The tank's water stands in the last leg up to its level. As soon as the first low point seals, all air from
// there to that water is one closed body. The advancing front compresses it; the body pushes the water in the
// last leg down by its gauge head, at most to the low point of that leg, where air bubbles out. With the
// front at crest i, a body of amount N (its volume at atmospheric pressure) has the gauge head g:
//   (ha + g) V = ha N,   V: the bore from the crest to the water in the last leg, g below the tank's level.
// The front then has to stand at the crest's elevation plus g, and each leg that it closes keeps its air at
// the pressure that the body has by then, which is more than atmospheric; a line filled dry traps its air at
// atmospheric pressure. The level needed at the source is the most that any stage needs
// [start-up-derivation].
#include <optional>

#include "runnel/air/start_up.h"

namespace runnel::air {

/// None if the outlet is free, if no crest is above the tank's level, or if the air can always leave. In the
/// pockets, `volume_start_m3` is the air trapped by then as a volume at atmospheric pressure, which may be
/// more than the leg.
std::optional<StartUp> restart(const Profile& profile, const StartConditions& conditions);

/// The harder of filling dry and starting again under water. `StartUp::under_water` says which it is; the
/// bound without compression is the higher of the two.
StartUp harder_start(const Profile& profile, const StartConditions& conditions);

}  // namespace runnel::air
