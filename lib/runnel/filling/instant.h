#pragma once
// The steady state of a system at one instant of a filling.
#include <cstdint>
#include <vector>

#include "runnel/filling/valve.h"
#include "runnel/steady/newton.h"

namespace runnel::filling {

/// The law that decides what a link carries.
struct Law {
  enum class Kind : std::uint8_t {
    still,     ///< nothing runs, or it is shut
    forward,   ///< one of its controls for flow a -> b
    backward,  ///< one of its controls for flow b -> a
    held,      ///< a float valve that holds its level, or a tap that lets out no more than is drawn
  };
  Kind kind = Kind::still;
  std::uint32_t control = 0;  ///< index among those controls
  friend bool operator==(const Law&, const Law&) = default;
};

/// `net_m3s` and `holding` have one entry a storage, `flow_m3s` and `law` one a link of the assembly, the
/// other vectors one a node of it.
struct Instant {
  bool settled = true;
  std::vector<double> net_m3s;  ///< spring and lines together, before draws and spill
  std::vector<double> flow_m3s;
  std::vector<double> head_m;
  std::vector<double> surplus_m3s;  ///< of places that are not fixed: spill at a lip, what a draw gets
  std::vector<steady::Hold> hold;
  std::vector<Law> law;
  std::vector<Holding> holding;  ///< of held float valves

  /// Whether the same laws hold everywhere, so that flows vary smoothly from one instant to the other.
  bool same_regime(const Instant& other) const {
    return law == other.law && hold == other.hold && holding == other.holding;
  }
};

}  // namespace runnel::filling
