#pragma once
// Overflow works of a box or tank: how much water goes over, and how high it must stand over the lip to let
// an inflow out. A lip is never a fixed level: the head over it raises the water in the box and every static
// pressure below, and may overtop its wall.
#include <optional>
#include <variant>
#include <vector>

#include "runnel/losses/mouth.h"
#include "runnel/losses/opening.h"
#include "runnel/losses/standpipe.h"

namespace runnel::losses {

/// A notch or the lip of a wall, straight and sharp or nearly so: Q = Cw (L - 0.1 ends h) h^1.5, with less
/// length for each end that pinches the water [weir-page]. Meant for h up to a quarter of L; its source
/// prints it up to half. From h = L on the pinching is held constant, so that the flow never falls [own].
struct WeirLip {
  double length_m = 0.0;
  int pinched_ends = 2;          ///< 0: as wide as the box, or all around
  double us_coefficient = 3.33;  ///< Cw in feet and seconds [weir-page]
};

/// Rows of holes in a riser that is closed on top; heads over the lowest point of the lowest hole.
struct DrilledRiser {
  std::vector<HoleRow> rows;
  double cd = sharp_hole_cd;
};

/// A pipe through the wall, which lets through what its mouth does; heads over its invert.
struct WallPipe {
  MouthEdge edge = MouthEdge::thin_projecting;
  double bore_m = 0.0;
  double slope = 0.0;
};

/// An upright round outlet in the floor of a gutter or box, of bore D: weir D h^1.5/7000, orifice
/// D^2 h^0.5/13200 in L/s and mm, the least of both [bs-6367]. Its weir is a fifth weaker than
/// `Standpipe`'s with Cd 0.6 and its orifice a seventh stronger.
Standpipe gutter_outlet(double bore_m);

using Overflow = std::variant<WeirLip, Standpipe, DrilledRiser, WallPipe>;

/// The flow with head_m of water over the lip, and its slope; zero for head_m <= 0. Strictly rising.
FlowAndSlope overflow_flow(const Overflow& overflow, double head_m);

/// The head over the lip at an inflow, to 1e-12 of itself, and its slope; zero without flow. None if not even
/// 100 m of water lets it out (a riser that is plugged or whose holes are too small).
std::optional<HeadAndSlope> overflow_head(const Overflow& overflow, double flow_m3s);

}  // namespace runnel::losses
