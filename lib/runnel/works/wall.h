#pragma once
// The wall below a spring. It turns the water into a pipe, and must do so without damming it: a spring that
// has to rise finds another way out, lower down the slope, and the work is lost. Any head that does stand
// against the wall drives water under it and round its ends; if the path through the ground is too short, the
// water carries the ground away. Lane's rule divides that path, a horizontal metre counted as a third of a
// vertical one, by the head [lane1935]: for a wall of a metre a warning, not a design.
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
  std::optional<Length> spring;          ///< elevation at which the water came out before the work
  std::optional<Length> water_behind;    ///< elevation of the water behind the wall at the greatest flow
  std::optional<Length> water_in_front;  ///< elevation in front of it, or of dry ground there
  std::optional<Length> top;
  std::optional<Length> highest_ground;  ///< beside the wall
  Length depth_behind, depth_in_front;   ///< of the wall's foot below the ground on each side
  Length width;                          ///< of the foot along the flow
};

/// Path of the water under the wall as Lane weights it: down, a third of the way across, and up.
Length weighted_creep(const Wall& wall);

/// Backwater (none is allowed [epa-private-water]), the top above the ground (12 in [new-york-5-6]), and the
/// creep, which always holds where no head stands against the wall.
std::vector<Judgement> judge_wall(const Wall& wall, Ground ground);

}  // namespace runnel::works
