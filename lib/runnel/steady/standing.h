#pragma once
// Standing water: how far it reaches along a line in which nothing flows, and how high it stands at the
// places behind such lines. The laws of flow leave the head open there (behind a check valve any higher head
// keeps the water just as still), so it is taken as the level up to which arriving water would fill.
#include <optional>
#include <vector>

#include "runnel/steady/assemble.h"
#include "runnel/steady/newton.h"

namespace runnel::steady {

struct StandingWater {
  std::vector<std::optional<double>> at;  ///< one a vertex, from start to end; none: not reached
  std::optional<double> out;              ///< the level at the far end, if water gets there
};

/// Water that stands at a level [m] at the start of a line in which nothing flows, or at its end. It stands
/// level up to the first point it cannot pass.
StandingWater stand_from_start(const LinePlan& plan, double level_m);
StandingWater stand_from_end(const LinePlan& plan, double level_m);

/// The level at which still water stands at the end of a line with a law of its own, when it stands at a
/// level [m] at the source; none where it does not get over. `least_m`: its lowest possible level there.
std::optional<double> stand_beyond(const ColumnLaw& law, double level_m, double least_m);

/// Head of every node that water reaches [m]: as solved where it flows, elsewhere the level at which it
/// stands; none where it is dry. `line_flow_m3s`: one a pipeline, zero where nothing flows.
std::vector<std::optional<double>> heads_with_water(const Assembly& assembly, const KernelState& solved,
                                                    const std::vector<double>& line_flow_m3s);

}  // namespace runnel::steady
