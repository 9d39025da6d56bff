#pragma once
// The lines of a tree as samples have them: bores, roughness, lengths, and how high every point of the pipe
// stands.
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "runnel/sizing/chance.h"
#include "runnel/sizing/lane_tree.h"
#include "runnel/steady/assemble.h"

namespace runnel::sizing {

/// A point of a line that the grade line must stay above.
struct LanePoint {
  double station_m = 0.0;
  double elevation_m = 0.0, floor_m = 0.0;  ///< as written
  double local_s2m5 = 0.0;  ///< local losses up to here, velocity head or exit; at the bore as written
  std::size_t before = 0;   ///< survey point before it
  double share = 0.0;       ///< of the way from that to the next
};

struct LaneLine {
  std::vector<LanePoint> points;
  std::size_t first_point = 0;         ///< its number among the points of all lines
  double local_s2m5 = 0.0;             ///< local losses from end to end, without its opening
  std::optional<double> start_axis_m;  ///< of a mouth in open water
};

/// For each thing one figure a sample, at [thing * together + sample].
struct LaneDraw {
  LaneInputs in;                  ///< heads are left to the caller
  std::vector<double> lift_m;     ///< for each place of the system
  std::vector<double> rise_m;     ///< for each point, how much higher than written
  std::vector<double> before_m;   ///< for each point, the length of pipe up to it
  std::vector<double> yield_m3s;  ///< for each box
};

class LaneLines {
 public:
  /// Nothing if some line cannot be worked on in lanes.
  static std::unique_ptr<LaneLines> of(const network::Model& model, const network::System& system,
                                       const steady::Assembly& assembly);

  const std::vector<LaneLine>& lines() const { return lines_; }
  /// The two figures between which the bore [m] or the roughness [m, or C] of a line lies.
  std::pair<double, double> range(const Unknown& unknown) const;
  void draw(const std::vector<Unknown>& unknowns, std::uint64_t seed, std::uint64_t number,
            LaneDraw& out) const;

 private:
  /// One walk along a line, as chance.cpp walks them.
  struct Walk {
    std::size_t line = 0;
    int from = 0, to = 0;  ///< places
    bool sets_from = false, sets_to = false;
  };

  LaneLines(const network::Model& model, const network::System& system) : model_(model), system_(system) {}
  bool add_lines(const steady::Assembly& assembly);
  void plan_walks();
  void survey(const std::vector<bool>& unknown, std::uint64_t seed, std::uint64_t sample, std::size_t lane,
              LaneDraw& out) const;
  void lengths(LaneDraw& out) const;

  const network::Model& model_;
  const network::System& system_;
  std::vector<LaneLine> lines_;
  std::vector<Walk> walks_;
  std::size_t points_ = 0;
  bool hazen_ = false;
};

}  // namespace runnel::sizing
