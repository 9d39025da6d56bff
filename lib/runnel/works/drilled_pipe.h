#pragma once
// What a drilled pipe in stone, or a drilled riser in a box, takes in. Each hole is an orifice under the head
// between the water around it and the water within. Stones lie against the holes and block part of them;
// nobody knows how much before they are laid, so the caller states the open share. A large pipe with too few
// holes holds the water back in the hill, where it finds another way out.
#include <optional>
#include <vector>

#include "runnel/losses/opening.h"
#include "runnel/units/quantity.h"

namespace runnel::works {

/// Share of the holes that stone leaves open, if nothing better is known. Common practice, no source.
inline constexpr double usual_open_share = 0.5;

/// Entrance velocity that keeps sand at rest and lime from settling, 0.1 ft/s; a rule for screens of wells,
/// from memory [driscoll1986].
inline constexpr Velocity careful_entrance = Velocity::feet_per_second(0.1);

struct DrilledPipe {
  Length bore;     ///< inside
  Length drilled;  ///< length that carries holes
  double holes_a_metre = 0.0;
  Length hole;  ///< bore of a hole
  double open_share = usual_open_share;
  double cd = losses::sharp_hole_cd;
};

struct Intake {
  double open_area_m2 = 0.0;
  double area_ratio = 0.0;  ///< open area over that of the bore; under 1 the holes choke the pipe
  Flow capacity;            ///< at the head given
};

/// All holes under one head, the water above the pipe. Negative heads give no flow.
Intake intake_of(const DrilledPipe& pipe, Length head);

/// Head that a flow loses in the holes, (Q / (Cd A))^2 / 2g. None if there is no open hole.
std::optional<Length> head_of_holes(const DrilledPipe& pipe, Flow flow);

/// Flow over open area. None if there is no open hole.
std::optional<Velocity> entrance_velocity(const DrilledPipe& pipe, Flow flow);

/// An upright riser, each row of holes under its own depth of water, the inside drained.
Flow riser_intake(const std::vector<losses::HoleRow>& rows, Length level, double open_share,
                  double cd = losses::sharp_hole_cd);

}  // namespace runnel::works
