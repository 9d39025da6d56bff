#pragma once
// How much water a layer gives to a drain. Everything depends on the conductivity of the ground, which is
// known to a factor of three at best, so each answer is a range from a range. Where only a grading is known,
// Hazen's rule gives the order of magnitude, k = C D10^2 with C about 100 in cm and s [hazen1911]; it was
// made for loose, uniform filter sand of D10 from 0.1 to 2.5 mm (secondary).
//
// A stormwater manual on the web prints k[mm/h] = 144 000 or 288 000 D10[mm]^2. That is C = 400 or 800, ten
// times the usual 40 and 80: a misplaced decimal point, and a drain sized by it gives a tenth of what is
// expected.
#include <optional>

#include "runnel/units/quantity.h"

namespace runnel::works {

/// Conductivity of the ground as a velocity, the flow per area at a slope of one.
struct Conductivity {
  Velocity low, high;
};

struct FlowRange {
  Flow low, high;
};

/// C of Hazen's rule [cm and s]: 100 as usually quoted; from 40 for fine or mixed sand to 150 for coarse
/// uniform sand [fetter-hydrogeology]. All from memory.
inline constexpr double usual_hazen = 100.0, least_hazen = 40.0, greatest_hazen = 150.0;

/// Hazen's rule for one C.
Velocity hazen(Length d10, double c = usual_hazen);

/// From the least C to the greatest. None outside D10 of 0.1 to 2.5 mm, for which the rule was not made.
std::optional<Conductivity> hazen_range(Length d10);

/// Darcy's law through a face: k times hydraulic slope times width times height.
FlowRange darcy_seepage(const Conductivity& ground, double slope, Length width, Length height);

/// An open face or a drain along a layer on impervious ground, fed from a line at a distance: Dupuit's
/// k (H^2 - h^2) / (2 R) per length and side [dupuit1863]. It takes the flow as horizontal, and so is
/// slightly too high while the water table is flat and far too high at a steep drawdown.
struct DrainInLayer {
  Length water_far;   ///< H, above the impervious ground, at the distance
  Length water_near;  ///< h, at the drain
  Length distance;    ///< R, how far the drain draws from
  Length drain;       ///< length of the drain
  int sides = 1;
};
FlowRange dupuit_seepage(const Conductivity& ground, const DrainInLayer& drain);

}  // namespace runnel::works
