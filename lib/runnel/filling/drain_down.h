#pragma once
// Emptying a section of a line through its washout: the water between the neighbouring high points falls
// in both limbs, and leaves through an opening at the low one.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/limbs.h"
#include "runnel/losses/opening.h"
#include "runnel/network/system.h"

namespace runnel::filling {

struct DrainOptions {
  double bore_m = 0.0;                ///< of the washout; zero: as wide as its pipe
  double cd = losses::sharp_hole_cd;  ///< [britannica1911]; a valve and an outlet pipe let less through
};

struct DrainDown {
  std::string pipeline, washout;
  double station_m = 0.0, from_m = 0.0, to_m = 0.0;  ///< stations of the washout and the highs beside it
  double height_m = 0.0;                             ///< of the upper high above the washout
  double bore_m = 0.0, end_m = 0.0;  ///< it counts as empty when the water stands half a bore above the axis
  double stays_m3 = 0.0;             ///< bore volume below the washout that cannot leave
  Draining draining;
};

/// Of the washout of that name; nothing if there is none. A washout at a high point drains nothing: time 0.
/// Valves beside it are taken as the model draws them, shut ones as open: the section is one.
std::optional<DrainDown> drain_down(const network::System& system, const std::string& washout,
                                    const DrainOptions& options = {});

/// Names of all washouts, in the model's order.
std::vector<std::string> washouts_of(const network::System& system);

}  // namespace runnel::filling
