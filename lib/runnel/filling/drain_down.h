#pragma once
// Emptying a section of a line through its washout: the water between the neighbouring high points falls in
// both limbs and leaves through an opening at the low point.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/limbs.h"
#include "runnel/losses/opening.h"
#include "runnel/network/system.h"

namespace runnel::filling {

struct DrainOptions {
  double bore_m = 0.0;                ///< of the washout; zero: that of its pipe
  double cd = losses::sharp_hole_cd;  ///< [britannica1911]; a valve and an outlet pipe let less through
};

struct DrainDown {
  std::string pipeline, washout;
  double station_m = 0.0, from_m = 0.0, to_m = 0.0;  ///< of the washout and the high points beside it
  double height_m = 0.0;                             ///< of the higher high point above the washout
  double bore_m = 0.0, end_m = 0.0;  ///< the section counts as empty at `end_m` above the axis, half a bore
  double stays_m3 = 0.0;             ///< bore volume below the washout that cannot leave
  Draining draining;
};

/// Empties the section of the washout with that name; none if there is no such washout. A washout at a high
/// point drains nothing, in no time. Valves in the section have the loss that the model gives them; shut ones
/// count as open and without loss, so that the section is one.
std::optional<DrainDown> drain_down(const network::System& system, const std::string& washout,
                                    const DrainOptions& options = {});

/// Names of all washouts, in the model's order.
std::vector<std::string> washouts_of(const network::System& system);

}  // namespace runnel::filling
