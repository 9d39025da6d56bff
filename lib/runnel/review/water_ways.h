#pragma once
// The ways that water could take through a system with every valve open, as a fitter sees it who wants to
// take a piece out. Nodes are the places and the pieces of pipe between valves; a valve joins two pieces and
// can part them, a check valve lets water through one way only, and a pipe that ends above the water of a
// tank lets none back. A cut of the fewest valves parts a node from all water [max-flow-min-cut].
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/system.h"

namespace runnel::review {

/// A valve of a line.
struct ValveRef {
  int line = -1;
  std::size_t part = 0;
  friend bool operator==(const ValveRef&, const ValveRef&) = default;
};

struct PipePiece {
  int line = -1;
  double from_m = 0.0, to_m = 0.0;  ///< stations
};

/// From a node to another, and back if `both`.
struct Way {
  std::size_t from = 0, to = 0;
  bool both = true;
  std::optional<ValveRef> valve;  ///< can be shut; none: always open
  bool drawn_shut = false;        ///< the valve is shut as drawn
};

class WaterWays {
 public:
  explicit WaterWays(const network::System& system);

  std::size_t nodes() const { return static_cast<std::size_t>(places_) + pieces_.size(); }
  std::size_t node_of_place(int place) const { return static_cast<std::size_t>(place); }
  /// The piece that a station of a line lies on; at a valve the piece before it.
  std::size_t node_at(int line, double station_m) const;
  /// The piece before a valve. Precondition: the system has that valve.
  std::size_t node_before(const ValveRef& valve) const;
  const std::vector<PipePiece>& pieces() const { return pieces_; }
  /// The piece of a node; none if the node is a place.
  std::optional<PipePiece> piece(std::size_t node) const;
  const std::vector<Way>& ways() const { return ways_; }
  /// Places that hold or give water: boxes and tanks.
  const std::vector<std::size_t>& water() const { return water_; }

 private:
  void add_line(const network::System& system, int line);

  int places_ = 0;
  std::vector<PipePiece> pieces_;
  std::vector<std::vector<std::size_t>> pieces_of_line_;
  std::vector<Way> ways_;
  std::vector<std::size_t> water_;
};

/// What has to be parted from the water: a node, and the valve that is itself taken out, if it is one.
struct Target {
  std::size_t node = 0;
  std::optional<ValveRef> valve;
};

/// What is done with the valves that are shut as drawn: bypasses, mostly.
enum class Bypasses {
  stay_shut,
  may_open,  ///< all are open unless they have to be shut
};

struct Isolation {
  bool possible = false;
  std::vector<ValveRef> shut;         ///< the fewest, and of those the nearest to the target; open as drawn
  std::vector<ValveRef> stay_shut;    ///< with `may_open`: shut as drawn, and needed so
  std::vector<std::size_t> zone;      ///< nodes from which water could still reach it: to be drained
  std::optional<std::size_t> fed_by;  ///< if not possible: the water that reaches it without passing a valve
};

Isolation isolate(const WaterWays& ways, const Target& target, Bypasses bypasses = Bypasses::stay_shut);

}  // namespace runnel::review
