#pragma once
// Starting a line whose outlet stands under water before the filling begins.
//
// The tank's water stands in the last leg up to its level. As soon as the first low point seals, all air from
// there to that water is one closed body. What rises and falls beyond the front shrinks it; it pushes the
// water in the last leg down as far as it has pressure, and at most to the low point of that leg, where it
// bubbles out. With front at crest i, the body of amount N (a volume at the air's own pressure) has the gauge
// head g:
//   (ha + g) V = ha N,   V: the bore from the crest to the water in the last leg, which stands at E - g.
// The front then has to stand at the crest's elevation plus g, and each fall it closes keeps its air at the
// pressure the body has by then: more than the air's own, where a line filled dry keeps just that.
// The water asked for at the source is the most that any stage asks for [start-up-derivation].
#include <optional>

#include "runnel/air/start_up.h"

namespace runnel::air {

/// None where the outlet is free, where no crest stands above the tank's level, or where the air can always
/// leave. The pockets hold what they hold by then: `volume_start_m3` is that at the air's own pressure and
/// may be more than the leg.
std::optional<StartUp> restart(const Profile& profile, const StartConditions& conditions);

/// The harder of filling dry and starting again under water: `StartUp::under_water` says which, and the bound
/// without compression is the higher of both.
StartUp harder_start(const Profile& profile, const StartConditions& conditions);

}  // namespace runnel::air
