#pragma once
// How water runs while nobody uses any: what springs bring then leaves over the lips of boxes and tanks.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

/// The state in which every tap is shut, nothing is drawn at joints and from tanks, and tanks stand as they
/// come to stand by that. Tanks whose level is not held are boxes in it, under their names.
struct AtRest {
  network::System system;
  steady::State state;

  /// What runs into a place by its lines alone [m3/s].
  double by_lines_m3s(const std::string& place) const;
  /// What leaves over the lip of a place [m3/s]; nothing where a float valve would keep that out.
  double spills_m3s(const std::string& place) const;
};

/// With those yields, one a box. None if no state settles.
std::optional<AtRest> at_rest(const network::System& system, const std::vector<Flow>& yields);

}  // namespace runnel::verdict
