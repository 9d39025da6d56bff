#pragma once
// The box as a settling basin. A grain that sinks faster than the water rises stays behind: in an ideal basin
// the flow over the plan area, the surface load, is the settling velocity of the smallest grain that is kept,
// whatever the depth [hazen1904]. A real box is worse, because its inflow stirs it, and its depth matters
// once the mud on the floor is near the outlet. What passes the box is left to a strainer, a second box or
// the washouts of the line.
//
// Small grains settle by Stokes, w = R g D^2 / (18 nu), R the excess of their density over the water's. It
// holds while D w / nu stays under about one, for sand up to some 0.1 mm; beyond that it promises too much.
// Ferguson and Church join Stokes to the law of large grains,
//   w = R g D^2 / (C1 nu + sqrt(0.75 C2 R g D^3)),  C1 = 18, C2 = 1 for natural grains, 0.4 for spheres,
// from memory [ferguson-church2004]; Rubey's older law is kept beside it, from memory [rubey1933].
#include <optional>

#include "runnel/units/quantity.h"
#include "runnel/water/water.h"

namespace runnel::works {

enum class SettlingLaw { stokes, ferguson_church, rubey };

struct Grain {
  double density_kgm3 = 2650.0;  ///< quartz; textbook matter, from memory
  double c2 = 1.0;  ///< shape in Ferguson and Church's law: 1 natural, by sieve size; 0.4 a smooth sphere
};

/// Settling velocity in still water of a grain of that size.
Velocity settling_velocity(SettlingLaw law, Length size, const water::Water& water, const Grain& grain = {});

/// D w / nu of a settling grain.
double grain_reynolds(Length size, Velocity settling, const water::Water& water);

/// Stokes' law is trusted up to this Reynolds number; textbooks say 0.1 to 1, from memory.
inline constexpr double greatest_stokes_reynolds = 1.0;

/// The size that settles that fast; none for a velocity that no grain up to 0.1 m reaches.
std::optional<Length> size_that_settles(SettlingLaw law, Velocity settling, const water::Water& water,
                                        const Grain& grain = {});

struct Basin {
  Length length, width;
  Length depth;  ///< of the water above the mud
};

struct SettlingAnswer {
  Velocity surface_load;
  Duration stay;                               ///< volume over flow
  std::optional<Length> kept_by_stokes, kept;  ///< smallest grain kept, by Stokes and by the fuller law
  bool stokes_holds = false;
};

/// What a box holds back at a given flow, which must be above zero.
SettlingAnswer settle(const Basin& basin, Flow flow, const water::Water& water, const Grain& grain = {},
                      SettlingLaw law = SettlingLaw::ferguson_church);

/// Plan area that holds back grains of that size, in square metres.
double basin_area_m2(Flow flow, Length size, const water::Water& water, const Grain& grain = {},
                     SettlingLaw law = SettlingLaw::ferguson_church);

/// True if the strainer's openings are no larger than the smallest grain the box keeps: then no grain passes
/// both.
bool strainer_meets_box(Length opening, const SettlingAnswer& box);

}  // namespace runnel::works
