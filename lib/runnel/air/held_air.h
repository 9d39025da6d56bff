#pragma once
// The air that start-up leaves in a system, pipeline by pipeline.
//
// Each way shows which descending legs keep their air (air/start_up.h). A pipeline that several ways share
// holds the pocket of a crest once, with the most air that any of them gives it. A leg that runs on over a
// joint is one body of air with one pressure, and each pipeline knows the volume of the leg above it.
#include <cstddef>
#include <vector>

#include "runnel/air/crests.h"
#include "runnel/network/system.h"

namespace runnel::air {

/// The part of a body of air that is in one pipeline.
struct HeldAir {
  std::size_t line = 0;   ///< index into the system's pipelines
  bool reversed = false;  ///< the water runs from its end to its start
  int body = 0;           ///< parts of one leg on several pipelines carry the same number
  double crest_station_m = 0.0, crest_elevation_m = 0.0;  ///< upper end in this pipeline, by its own stations
  double low_station_m = 0.0, low_elevation_m = 0.0;
  double start_volume_m3 = 0.0;  ///< of the whole body at atmospheric pressure
  double before_m3 = 0.0;        ///< volume of the leg on the pipelines before this one
};

/// Sorted by pipeline, direction and place along the flow. Ways with a point above the source are left out:
/// they run only if they are filled by hand, and are then full.
std::vector<HeldAir> held_air(const network::System& system, const std::vector<Way>& ways);

}  // namespace runnel::air
