#pragma once
// What the wave of a valve that snaps shut runs through, and how high it is there.
#include <optional>
#include <string>
#include <vector>

#include "runnel/pipes/surge_limits.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {

/// Head of the wave [m] in pipe that lies free and in pipe that the ground holds fast, which is the worse.
struct SurgeHead {
  double free_m = 0.0, held_m = 0.0;
  bool hold_known = true;  ///< false: the material's Poisson's ratio is not known, and both are the free one
};

/// A full stretch of pipe that the wave runs through.
struct SurgedStretch {
  const network::Line* line = nullptr;
  const steady::LineState* run = nullptr;
  const pipes::Pipe* pipe = nullptr;
  double from_m = 0.0, to_m = 0.0;  ///< stations, from_m < to_m
  bool before = true;        ///< the valve lies downstream: the pressure rises first; behind it, it falls
  bool all_stopped = false;  ///< all that flows here runs through the valve, and then stands
  std::optional<SurgeHead> head;  ///< none if the pipe's wall or modulus is not known
};

/// The points of the line that lie on a stretch, its ends with it: [first, last).
struct PointRange {
  std::size_t first = 0, last = 0;
};
PointRange points_on(const SurgedStretch& stretch);

struct Surge {
  std::string valve;  ///< "tap 3", "V1 on main", "the float valve of tank"
  pipes::SurgeKind kind = pipes::SurgeKind::recurring;
  std::vector<SurgedStretch> stretches;
  double return_s = 0.0;         ///< until the wave is back from the furthest free surface before the valve
  double behind_return_s = 0.0;  ///< the same behind it
};

/// One for each tap with an opening, float valve and valve in a line, if water runs through it.
///
/// The wave runs against the flow to each nearest free surface: a box, a tank, or the point where the pipe
/// runs part-full. Behind a valve in a line it runs with the flow as well. In each pipe its height is taken
/// as the greater of a dV / g at the valve and in that pipe, for the flow that the valve stops. The first
/// wave is never higher: at a join it is passed on by 2 Y / (Y + sum of the others) <= sqrt(Y / Y'), Y' the
/// pipe it enters, so that it stays below q / sqrt(Y_valve Y') <= q / min(Y_valve, Y') [own]. What other
/// branches take from it is neglected; what a shut end of another branch adds is not considered.
std::vector<Surge> surges(const Case& c);

/// What the wave makes of the pressure in a stretch, against what the pipe bears for a moment.
struct SurgeLoad {
  double station_m = 0.0;    ///< where most stands
  double standing_pa = 0.0;  ///< what stands or runs there before the wave
  double wave_free_pa = 0.0, wave_held_pa = 0.0;
  double rating_pa = 0.0, allowed_pa = 0.0;
  const pipes::SurgeRule* rule = nullptr;  ///< by which it is allowed; none: the rating itself
};
/// None if the wave or the rating is not known. (surge_rules.cpp)
std::optional<SurgeLoad> surge_load(const Case& c, const Surge& surge, const SurgedStretch& stretch);

/// surge_parting.cpp: high points without an air valve where the wave swings below what the water bears.
void columns_parted(const Case& c, const std::vector<Surge>& all, Findings& out);

}  // namespace runnel::verdict
