#pragma once
// What the points of a line's course cost and hold, one by one. Where they lie, the course says. Shared by
// the assembly of the kernel and by the trace of a solved line; the independent checker has its own.
//
// A local loss stands at a vertex and is lost by water that passes it. Loss coefficients are given as
// K / (2 g A^2) [s2/m5], so that they multiply Q^2.
#include <optional>
#include <vector>

#include "runnel/losses/friction.h"
#include "runnel/network/passage.h"
#include "runnel/network/system.h"

namespace runnel::steady {

/// What stands at a point of the course.
struct Vertex {
  double local_forward_s2m5 = 0.0, local_backward_s2m5 = 0.0;
  /// 1 / (2 g A^2) of the pipe that ends here and of the one that begins here, along the line.
  double before_s2m5 = 0.0, behind_s2m5 = 0.0;
  double floor_m = 0.0;     ///< the grade line cannot sink below this: the pipe itself where air can get
                            ///< in, less the vapour limit where it cannot
  bool shut = false;        ///< a shut valve stands here
  bool keeps_back = false;  ///< a valve here lets nothing through towards the start
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
  network::Course course;
  std::vector<Vertex> vertices;                           ///< one a point of the course
  std::vector<losses::PipeFriction> friction;             ///< one a pipe of the pipeline
  double entrance_s2m5 = 0.0, exit_s2m5 = 0.0;            ///< forward: at the first and the last vertex
  double back_entrance_s2m5 = 0.0, back_exit_s2m5 = 0.0;  ///< backward: at the last and the first vertex
  bool shut = false;                                      ///< a valve on it is shut
  bool one_way = false;  ///< by a check valve, a reducing valve or an end in the open air
};

/// A plan as water meets it that runs forward or back.
struct PassedPlan {
  PassedPlan(const LinePlan& planned, bool runs_forward)
      : plan(planned), passage(planned.course, !runs_forward), forward(runs_forward) {}

  std::size_t last() const { return plan.vertices.size() - 1; }
  const Vertex& vertex(std::size_t i) const { return plan.vertices[forward ? i : last() - i]; }
  double local_s2m5(std::size_t i) const { return vertex(i).local_s2m5(forward); }
  double entrance_s2m5() const { return forward ? plan.entrance_s2m5 : plan.back_entrance_s2m5; }
  double exit_s2m5() const { return forward ? plan.exit_s2m5 : plan.back_exit_s2m5; }

  const LinePlan& plan;
  network::Passage passage;
  bool forward;
};

/// Plans one pipeline of a system (as it stands under its setting).
LinePlan plan_line(const network::System& system, const network::Line& line);

/// Loss coefficient of an outlet's opening, K / (2 g A^2) on its own bore; 0 for the open end of a pipe
/// [s2/m5].
double opening_s2m5(const network::Outlet& outlet);

}  // namespace runnel::steady
