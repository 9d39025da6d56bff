#pragma once
// The law of a line that runs with its start-up air still in it: the head that its source must have.
//
// A line that has started keeps the air of each descending leg between a crest (elevation zc) and the low
// point (zl) that seals it, until the current carries it off. Water runs down under the air without
// filling the pipe, so the fall from the crest to the air's lower surface, at elevation y, is lost.
//
// Derivation. Let E = z + gauge head + V^2/2g be the energy, g the gauge head of the air, J(Q) the friction
// per metre of full pipe, ha the atmospheric head, V(y) the volume of the leg above y, and V0 the amount of
// air, as a volume at atmospheric pressure. From the end back:
//   from below  E_low + J L(y..low) = y + g + V^2/2g        full pipe just below the surface
//   [boyle]     (ha + g) V(y) = ha V0                       isothermal
//   above       E_crest = zc + g + V^2/2g                   full pipe just before the crest
// The first two each give g(y): one falls with y, D(y) = E_low + J L - y - V^2/2g, and one rises with it,
// B(y) = ha V0 / V(y) - ha. They cross once, and in a straight piece the crossing solves a quadratic.
// Differentiating (ha + D) V = ha V0 gives the slopes:
//   dg = dD|y (ha + g) e / (V d + (ha + g) e),   d = dD/dx, e = dV/dx along the piece, downward,
// a factor between 0 and 1. Hence E_crest rises with Q and with the head below, and so does the need.
//
// Where the equations have more than one solution, or none:
//  - In gentle pieces J may exceed the fall, D then rises with y, and there may be several crossings.
//    g is the greatest over the leg of min(D, B): the crossing with the most head, and continuous in Q.
//  - Where the full pipe loses more head than the air would, the air takes none: E_crest = max(full pipe,
//    pocket). In such a leg J L exceeds the fall from the crest to y, and the current fills the pipe to the
//    crest. (A leg gentle above and steep below is treated as above even where only its upper piece is too
//    gentle for the current; the law is then too favourable by at most (J L - fall) of that piece.)
//  - g >= 0: where the water below sucks, air comes in and the leg runs part-full, as it does at open crests.
//  - More air than the leg holds under g escapes by the low point.
//  - Where the leg narrows downward, V^2/2g below the surface counts as that of the widest pipe between
//    the crest and there, which is on the safe side. With the narrower pipe's, need could fall as Q rises.
//  - At the crest V^2/2g is that of either side: before it, or behind it with the local loss between.
//
// Assumptions: steady flow, isothermal air that neither dissolves nor leaks, bubbles that do not travel,
// pockets that stay where start-up left them, water under the air whose weight and volume do not count.
// No published worked example could be read; the values the tests hold were computed from these equations.
#include <vector>

#include "runnel/steady/column_law.h"
#include "runnel/steady/pocket_course.h"

namespace runnel::steady {

/// With no compression, air that keeps its volume under any pressure gives the bound on the safe side.
enum class Compression { isothermal, none };

/// A pocket in a line that runs.
struct RunningPocket {
  int crest = 0, low = 0;
  double interface_m = 0.0;  ///< elevation of the lower surface of the air
  double gauge_head_m = 0.0, volume_m3 = 0.0;  ///< in a leg from the line before: the volume on this line
  double head_taken_m = 0.0;  ///< what it needs at the crest beyond what it would if the leg ran full
};

class PocketLaw : public ColumnLaw {
 public:
  /// Computes what does not depend on flow. Throws std::invalid_argument for an unsound course.
  explicit PocketLaw(PocketCourse course, Compression compression = Compression::isothermal);

  /// flow_m3s >= 0; at 0 the need of a line that is just about to run. Rises with both arguments. Allocates
  /// nothing and may be called from several threads.
  Need need(double flow_m3s, double sink_head_m) const override;

  /// The pockets at a flow, in flow order.
  std::vector<RunningPocket> pockets(double flow_m3s, double sink_head_m) const;

  /// The flow at which the need equals the source's head, at most `most_m3s` (what a spring gives); 0 where
  /// the line does not start. Found to the rounding of heads.
  double flow_m3s(double source_head_m, double sink_head_m, double most_m3s = unbounded) const;

  const PocketCourse& course() const { return course_; }

 private:
  struct Dual;    // a head with its slopes
  struct Piece {  ///< what the law needs to know of one reach
    int pocket = -1;
    double above_m3 = 0.0, below_m3 = 0.0;  ///< volume of the leg from the crest to its upper and lower end
    double credit_s2m5 = 0.0;               ///< for the velocity head below the surface, if that lies here
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
