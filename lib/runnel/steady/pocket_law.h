#pragma once
// The law of a line that runs with its start-up air still in it: the head its source must have.
//
// A line that has started keeps the air of each descending leg between a crest (elevation zc) and the low
// point (zl) that seals it, until the current carries it off. Water runs down under the air without
// filling the pipe, so the fall from the crest to the air's lower surface, at elevation y, is lost.
//
// Derivation. Let E = z + gauge head + V^2/2g be the energy, g the gauge head of the air, J(Q) the friction
// per metre of full pipe, ha the head of the atmosphere, V(y) the volume of the leg above y, and V0 the
// amount of air, as a volume at the atmosphere's pressure. From the end back:
//   from below  E_low + J L(y..low) = y + g + V^2/2g        full pipe just below the surface
//   [boyle]     (ha + g) V(y) = ha V0                       isothermal
//   above       E_crest = zc + g + V^2/2g                   full pipe just before the crest
// The first two say g(y) twice: once falling with y, D(y) = E_low + J L - y - V^2/2g, once rising,
// B(y) = ha V0 / V(y) - ha. They cross once, and in a straight piece the crossing solves a quadratic.
// Differentiating (ha + D) V = ha V0 gives the slopes:
//   dg = dD|y (ha + g) e / (V d + (ha + g) e),   d = dD/dx, e = dV/dx along the piece, downward,
// a factor between 0 and 1. Hence E_crest rises with Q and with the head below, and so does the need.
//
// Where the equations would say more than one thing, or nothing:
//  - In gentle pieces J may exceed the fall, D then rises with y, and there may be several crossings.
//    g is the greatest over the leg of min(D, B): the crossing with the most head, and continuous in Q.
//  - Air that would take less head than the full pipe takes none: E_crest = max(full pipe, pocket). In
//    such a leg J L exceeds the fall from the crest to y, and the current fills the pipe to the crest.
//    (A leg gentle above and steep below is paid for as written above even where only its upper piece
//    is too gentle for the current; the law is then too kind by (J L - fall) of that piece at most.)
//  - g >= 0: where the water below sucks, some air comes back and the leg runs part-full, as open crests do.
//  - More air than the leg holds under g escapes by the low point.
//  - Where the leg narrows downward, V^2/2g below the surface counts as that of the widest pipe between
//    the crest and there. With the narrower pipe's, need could fall as Q rises. It asks for more, never less.
//  - At the crest V^2/2g is that of either side: before it, or behind it with the local loss between.
//
// Assumptions: steady flow, isothermal air that neither dissolves nor leaks, bubbles that do not travel,
// pockets that stand where start-up left them, water under the air that neither weighs nor fills.
// No published worked example could be read; the values the tests hold were computed from these equations.
#include <vector>

#include "runnel/steady/column_law.h"
#include "runnel/steady/pocket_course.h"

namespace runnel::steady {

/// Air that keeps its volume under any pressure is the bound on the safe side.
enum class Compression { isothermal, none };

/// A pocket in a line that runs.
struct RunningPocket {
  int crest = 0, low = 0;
  double interface_m = 0.0;  ///< elevation of the lower surface of the air
  double gauge_head_m = 0.0, volume_m3 = 0.0;  ///< of a leg from the line before: what is on this line
  double head_taken_m = 0.0;  ///< more than the leg would ask at the crest if it ran full, all else equal
};

class PocketLaw : public ColumnLaw {
 public:
  /// Works out what does not depend on flow. Throws std::invalid_argument for an unsound course.
  explicit PocketLaw(PocketCourse course, Compression compression = Compression::isothermal);

  /// flow_m3s >= 0; at 0 the need of a line just about to run. Rises with both arguments. Allocates nothing
  /// and may be called from several threads.
  Need need(double flow_m3s, double sink_head_m) const override;

  /// The pockets at a flow, in flow order.
  std::vector<RunningPocket> pockets(double flow_m3s, double sink_head_m) const;

  /// The flow at which the need is what the source has, at most `most_m3s` (what a spring gives): 0 where
  /// the line does not start. To rounding of the heads.
  double flow_m3s(double source_head_m, double sink_head_m, double most_m3s = unbounded) const;

  const PocketCourse& course() const { return course_; }

 private:
  struct Dual;    // a head with its slopes
  struct Piece {  ///< what the law needs of one reach
    int pocket = -1;
    double above_m3 = 0.0, below_m3 = 0.0;  ///< volume of the leg from the crest to its upper, lower end
    double credit_s2m5 = 0.0;               ///< velocity head below the surface if it lies here
  };
  struct Leg {
    double atmosphere_m4 = 0.0;  ///< ha V0
    double start_m3 = 0.0;       ///< V0
  };

  void prepare_leg(std::size_t pocket);
  Dual gauge_in(const Piece& piece, const Dual& upper, const Dual& lower) const;
  Dual past_point(std::size_t point, const Dual& below, const Dual& floor, const Dual& square) const;
  template <typename Seen>
  Dual trace(double flow_m3s, double sink_head_m, Seen&& seen) const;
  RunningPocket placed(std::size_t pocket, double gauge_head_m) const;

  PocketCourse course_;
  Compression compression_;
  std::vector<Piece> pieces_;          ///< one a reach
  std::vector<Leg> legs_;              ///< one a pocket
  std::vector<int> begins_;            ///< pocket whose crest a point is; -1: none
  std::vector<double> velocity_s2m5_;  ///< 1 / (2 g A^2) of each pipe
};

}  // namespace runnel::steady
