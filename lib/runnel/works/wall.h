#pragma once
// The wall below a spring. It turns the water into a pipe, and must do it without holding the water up: a
// spring that has to climb looks for another way out, lower down the slope, and the work is lost. Whatever
// head does stand against the wall drives water under it and round its ends; if its way through the ground
// is too short it takes the ground along. Lane's rule counts that way, a level metre for a third of an
// upright one, over the head [lane1935]: a caution for a wall of a metre, not a design of one.
#include <optional>

#include "runnel/units/quantity.h"
#include "runnel/works/judgement.h"

namespace runnel::works {

enum class Ground {
  very_fine_sand_or_silt,
  fine_sand,
  medium_sand,
  coarse_sand,
  fine_gravel,
  medium_gravel,
  coarse_gravel,
  boulders_with_gravel,
  soft_clay,
  medium_clay,
  hard_clay,
};

/// Least weighted creep over head by Lane: 8.5, 7, 6, 5, 4, 3.5, 3, 2.5 from silt to boulders, 3, 2, 1.8 for
/// clay; from memory [lane1935].
double least_creep_ratio(Ground ground);

struct Wall {
  std::optional<Length> spring;        ///< elevation at which the water came out before the work
  std::optional<Length> water_behind;  ///< elevation at which it stands behind the wall at the greatest flow
  std::optional<Length> water_in_front;  ///< elevation in front of it; dry ground is as good
  std::optional<Length> top;
  std::optional<Length> highest_ground;  ///< beside the wall
  Length depth_behind, depth_in_front;   ///< of the wall's foot below the ground on each side
  Length width;                          ///< of the foot along the flow
};

/// Way of the water under the wall as Lane weighs it, down, a third of across, and up.
Length weighted_creep(const Wall& wall);

/// Backwater (none is allowed [epa-private-water]), the top above the ground (12 in [new-york-5-6]), and the
/// creep, which holds by itself where no head stands against the wall.
std::vector<Judgement> judge_wall(const Wall& wall, Ground ground);

}  // namespace runnel::works
