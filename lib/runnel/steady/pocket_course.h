#pragma once
// A line in the order the water takes it, with what its points cost and the air that is shut into it: what
// the law of steady/pocket_law.h works on. Where the points lie, its courses say. It knows no System, so that
// it can be tested by hand.
#include <optional>
#include <vector>

#include "runnel/losses/friction.h"
#include "runnel/steady/kernel.h"
#include "runnel/steady/line_plan.h"

namespace runnel::steady {

/// What stands at a point of the passage.
struct PocketPoint {
  double local_s2m5 = 0.0;      ///< K / (2 g A^2) of what stands here; paid by water that passes
  double floor_m = -unbounded;  ///< the pressure grade cannot sink below this, on either side of the point
};

/// Air between a crest and the low point below it that seals it.
struct ShutAir {
  int crest = 0, low = 0;  ///< indices into the points, crest < low
  std::optional<double> volume_m3;  ///< at atmospheric pressure; none: the whole leg, which is the safe side
  /// Volume of the part of a leg that lies on the line before, where the leg begins. `volume_m3` is then the
  /// air of the whole leg on both lines, one body of air with one pressure.
  double before_m3 = 0.0;
};

struct PocketCourse {
  network::Passage passage;         ///< where its points lie: at least two, the source first
  std::vector<PocketPoint> points;  ///< one a point of the passage
  std::vector<losses::PipeFriction> pipes;
  double entrance_s2m5 = 0.0, exit_s2m5 = 0.0;  ///< the exit's holds the velocity head of the jet
  double mouth_m = 0.0;  ///< of the first pipe, full before the first point: no height is lost there
  double atmospheric_head_m = 0.0;  ///< of the water used, at the altitude of the line; > 0
  /// Quadratic losses are m Q sqrt(Q^2 + smooth^2), as in Link::smooth_m3s. Zero is exact.
  double smooth_m3s = 0.0;
  std::vector<ShutAir> pockets;  ///< in flow order; one may begin where another ends
};

/// The course of water flowing forward along a plan, without air. Reducing valves are left out: each needs a
/// course of its own, from the valve on, with the head it holds as its source. `end_s2m5`: loss of an opening
/// behind the end.
PocketCourse course_of(const LinePlan& plan, double atmospheric_head_m, double end_s2m5 = 0.0);

/// The stretch of a course from one of its points on, with the air trapped in it; the local loss of that
/// point itself is left out. Precondition: no air begins before the point and ends behind it.
PocketCourse course_from(const PocketCourse& course, int point);

/// What flows from its end back to its start.
PocketCourse course_back(const LinePlan& plan, double atmospheric_head_m);

/// The same course with some pockets gone. `gone` holds indices into `pockets`, in any order.
PocketCourse without_pockets(const PocketCourse& course, const std::vector<int>& gone);

/// Throws std::invalid_argument if the course breaks a condition stated above.
void require_sound(const PocketCourse& course);

}  // namespace runnel::steady
