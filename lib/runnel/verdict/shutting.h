#pragma once
// What can be shut at all: water comes to stand under its full height only before something that shuts.
#include <limits>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

/// Where the water of each line can come to stand, one entry a line: before its last valve, or in all of it
/// where its end can be shut (a tap, a float valve, a joint behind which all can be shut). Before and behind
/// are along the flow; in a line without flow, along the line as drawn.
class Shutting {
 public:
  Shutting(const network::System& system, const steady::State& state);

  /// True if water can be made to stand at that station.
  bool can_stand(int line, double station_m) const;
  /// True if no part of the line can be made to stand.
  bool never_stands(int line) const;

 private:
  struct Stretch {
    double from_m = std::numeric_limits<double>::infinity();
    double to_m = -std::numeric_limits<double>::infinity();
  };
  std::vector<Stretch> stands_;
};

}  // namespace runnel::verdict
