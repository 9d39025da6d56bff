#pragma once
// Where a line is too high for the water before it. Not for users of the library.
#include <optional>
#include <string>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {

/// What water would have to rise to in order to pass a line.
struct Climb {
  double to_m = 0.0, station_m = 0.0;
  std::string into;               ///< the tank whose inlet or water stands higher than the line, or empty
  std::optional<double> water_m;  ///< how high the water before it stands, if any does
};

/// None if nothing is known of the points of the line.
std::optional<Climb> climb_of(const network::System& system, const steady::LineState& line);

/// "climbs to 79.60 m at 20.0 m and the water before it stands no higher than 78.01 m".
Sentence told(const std::optional<Climb>& climb);

/// What somebody could do about a line that stands still for it, and does in every other state.
Sentence let_it_pass(const network::System& system, const steady::LineState& line,
                     const std::optional<Climb>& climb);

}  // namespace runnel::verdict
