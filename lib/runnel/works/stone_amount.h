#pragma once
// How much stone to order. A layer has a volume, less that of the pipe or finer core in it, but stone is sold
// by weight. Loose stone is a third air, and the quarry knows best what it weighs: the figure here serves if
// theirs is missing.
#include "runnel/units/quantity.h"

namespace runnel::works {

/// Weight of a cubic metre of loose gravel or crushed stone [kg/m3]. Common practice, no source.
inline constexpr double usual_stone_kgm3 = 1500.0;

struct StoneAmount {
  Volume volume;
  double mass_kg = 0.0;
};

/// A layer of even thickness. `extra` is the share ordered beyond the drawing, for what sinks in or is lost.
StoneAmount layer_amount(Length length, Length width, Length thickness, double bulk_kgm3 = usual_stone_kgm3,
                         double extra = 0.0);

/// Stone that fills a trench, less the round pipe (or sleeve) in it. Zero if the pipe fills the trench.
StoneAmount surround_amount(Length length, Length width, Length height, Length outside_diameter,
                            double bulk_kgm3 = usual_stone_kgm3, double extra = 0.0);

/// Mass of a loose cubic metre from the grains and the share of voids between them [kg/m3].
double bulk_density_kgm3(double grain_kgm3, double void_share);

}  // namespace runnel::works
