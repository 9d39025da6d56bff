#pragma once
// What the steady physics says at one instant.
#include <cstdint>
#include <vector>

#include "runnel/filling/valve.h"
#include "runnel/steady/newton.h"

namespace runnel::filling {

/// Which law decides what a link carries.
struct Law {
  enum class Kind : std::uint8_t {
    still,     ///< nothing runs, or it is shut
    forward,   ///< one of its controls for flow a -> b
    backward,  ///< one of its controls for flow b -> a
    held,      ///< a float valve that holds its level
  };
  Kind kind = Kind::still;
  std::uint32_t control = 0;  ///< which of those controls, from 0
  friend bool operator==(const Law&, const Law&) = default;
};

/// Vectors: net and holding one a storage, flow and law one a link of the assembly, the others one a place of
/// it.
struct Instant {
  bool settled = true;
  std::vector<double> net_m3s;  ///< spring and lines together, before draws and spill
  std::vector<double> flow_m3s;
  std::vector<double> head_m;
  std::vector<double> surplus_m3s;  ///< free places: spill at a lip, what a draw gets
  std::vector<steady::Hold> hold;
  std::vector<Law> law;
  std::vector<Holding> holding;  ///< of held float valves

  /// The same laws hold everywhere, so flows vary smoothly from one to the other.
  bool same_regime(const Instant& other) const {
    return law == other.law && hold == other.hold && holding == other.holding;
  }
};

}  // namespace runnel::filling
