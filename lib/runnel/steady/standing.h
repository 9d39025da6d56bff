#pragma once
// Water that stands: how far it reaches along a line in which nothing flows, and how high it stands at the
// places behind such lines. There the laws of flow leave the head open (behind a check valve any higher head
// is as still), so it is what the water that comes there would fill up to.
#include <optional>
#include <vector>

#include "runnel/steady/assemble.h"
#include "runnel/steady/newton.h"

namespace runnel::steady {

struct StandingWater {
  std::vector<std::optional<double>> at;  ///< one a vertex, from start to end; none: not reached
  std::optional<double> out;              ///< level that comes out at the far end
};

/// Water of a level [m] at the start of a line in which nothing flows, or at its end: level up to the first
/// point it cannot pass.
StandingWater stand_from_start(const LinePlan& plan, double level_m);
StandingWater stand_from_end(const LinePlan& plan, double level_m);

/// The level that water of a level [m] at a line's source stands at beyond a law of its own, none of it
/// flowing; none where it does not get over. `least_m`: the lowest it can stand at the end.
std::optional<double> stand_beyond(const ColumnLaw& law, double level_m, double least_m);

/// Head of every node that water comes to [m]: as solved where it flows, the level it stands at elsewhere;
/// none where it is dry. `line_flow_m3s`: one a pipeline, zero where nothing flows.
std::vector<std::optional<double>> heads_with_water(const Assembly& assembly, const KernelState& solved,
                                                    const std::vector<double>& line_flow_m3s);

}  // namespace runnel::steady
