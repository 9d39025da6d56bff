#pragma once
// A pipeline cut at every survey point, part and change of pipe, with the loss at each cut. Shared by the
// assembly of the kernel and the grade line of a solved pipeline; the independent checker has its own.
//
// A local loss stands at a vertex and is lost by water that passes it. Loss coefficients are given as
// K / (2 g A^2) [s2/m5], so that they multiply Q^2.
#include <optional>
#include <vector>

#include "runnel/losses/friction.h"
#include "runnel/network/system.h"

namespace runnel::steady {

struct Vertex {
  double station_m = 0.0, elevation_m = 0.0;
  int pipe = 0;           ///< pipe of the reach that begins here (at the last vertex: that ends here)
  double length_m = 0.0;  ///< slope length of that reach; 0 at the last vertex
  double local_forward_s2m5 = 0.0, local_backward_s2m5 = 0.0;
  /// 1 / (2 g A^2) of the pipe that ends here and of the one that begins here, along the line.
  double before_s2m5 = 0.0, behind_s2m5 = 0.0;
  double floor_m = 0.0;      ///< the grade line cannot sink below this: the pipe itself where air can get
                             ///< in, less the vapour limit where it cannot
  bool survey_point = true;  ///< false: a part or a change of pipe between two points
  bool shut = false;         ///< a shut valve stands here
  bool keeps_back = false;   ///< a valve here lets nothing through towards the start
  std::optional<double> holds_m = {};  ///< a reducing valve here holds the grade behind it at or below this

  double local_s2m5(bool forward) const { return forward ? local_forward_s2m5 : local_backward_s2m5; }
  /// 1 / (2 g A^2) of the narrower pipe that meets here, in which the pressure is lowest.
  double narrower_s2m5() const { return before_s2m5 > behind_s2m5 ? before_s2m5 : behind_s2m5; }
  /// By how much the energy just behind the vertex must exceed the floor, which applies on both sides. Where
  /// the pipe widens, the water before the vertex is faster, but the share of its velocity head that the
  /// expansion loses is gone behind it and is not counted again.
  double over_floor_s2m5(bool forward) const {
    const double arriving = (forward ? before_s2m5 : behind_s2m5) - local_s2m5(forward);
    const double leaving = forward ? behind_s2m5 : before_s2m5;
    return arriving > leaving ? arriving : leaving;
  }
};

struct LinePlan {
  std::vector<Vertex> vertices;
  std::vector<losses::PipeFriction> friction;             ///< one a pipe of the pipeline
  double entrance_s2m5 = 0.0, exit_s2m5 = 0.0;            ///< forward: at the first and the last vertex
  double back_entrance_s2m5 = 0.0, back_exit_s2m5 = 0.0;  ///< backward: at the last and the first vertex
  bool shut = false;                                      ///< a valve on it is shut
  bool one_way = false;  ///< by a check valve, a reducing valve or an end in the open air
};

/// Plans one pipeline of a system (as it stands under its setting).
LinePlan plan_line(const network::System& system, const network::Line& line);

/// Loss coefficient of an outlet's opening, K / (2 g A^2) on its own bore; 0 for the open end of a pipe
/// [s2/m5].
double opening_s2m5(const network::Outlet& outlet);

}  // namespace runnel::steady
