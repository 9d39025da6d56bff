#pragma once
// The mouth of a pipe in an open box, barely covered. Water passes through it as through the inlet of a
// culvert ("inlet control"): as over a weir while the crown is open, as through a hole once it is drowned.
// The pipe carries no more than its mouth lets in, whatever the fall beyond it.
//
// Formulas and constants: [hds-5]. They were fitted to culverts; no test below about 0.1 m of bore is known,
// and even above that the head is right to 10 % at best.
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/losses/opening.h"

namespace runnel::losses {

/// Error of the headwater that the source admits [hds-5].
inline constexpr double mouth_uncertainty = 0.10;
/// No test is known below this bore; from memory.
inline constexpr double smallest_tested_mouth_m = 0.1;

/// How the mouth is made.
enum class MouthEdge {
  square_in_wall,     ///< cut square, flush with a wall: concrete, PVC or PE
  groove_in_wall,     ///< the socket upstream, flush with a wall
  groove_projecting,  ///< the socket upstream, projecting from the wall
  metal_in_wall,      ///< thin metal, flush with a wall
  mitred,             ///< cut to lie in the slope of a bank
  thin_projecting,    ///< a thin wall projecting into the water
  bevel_45,           ///< bevelled ring, 45 degrees
  bevel_33            ///< bevelled ring, 33.7 degrees
};

/// Constants of one mouth, as printed.
struct MouthForm {
  std::string_view word;  ///< as written in a model
  std::string_view name;
  double k = 0.0, m = 0.0;                ///< crown open: HW/D = Hc/D + K load^M + Ks S
  double c = 0.0, y = 0.0;                ///< drowned:    HW/D = c load^2 + Y + Ks S
  double slope_factor = -0.5;             ///< Ks
  std::array<double, 6> polynomial = {};  ///< of the second published form
};
const MouthForm& mouth_form(MouthEdge edge);

/// The words that a model may use, the usual one first; and the edge that a word means.
std::vector<std::string> mouth_words();
std::optional<MouthEdge> find_mouth(std::string_view word);

/// 1.811 Q / (A sqrt D) in SI, Q / (A sqrt D) in feet: the argument of both forms in [hds-5].
double mouth_load(double bore_m, double flow_m3s);

/// Headwater over the invert in bores: by the form for an open crown (load up to 3.5), from the least energy
/// head in bores, and by that for a drowned crown (load above 4). The caller adds the share of the slope.
double open_mouth_ratio(const MouthForm& form, double least_energy_ratio, double load);
double drowned_mouth_ratio(const MouthForm& form, double load);

/// The same by polynomial, a + b F + ... + f F^5 + Ks S with F = 1.8113 Q / D^2.5, for 0.5 <= HW/D <= 3
/// [culvert-polynomial]. For comparison: no answer uses it. It differs from the forms by up to 2 % for
/// straight cuts in a wall, 6 % for mitred or thin ones, 9 % for bevelled ones.
double mouth_ratio_by_polynomial(MouthEdge edge, double bore_m, double slope, double flow_m3s);

enum class MouthRegime { open, between, drowned };

/// A head that a flow needs, and its derivative.
struct HeadAndSlope {
  double head_m = 0.0;
  double slope_sm2 = 0.0;  ///< d head / d flow [s/m2]
};

/// One mouth, ready for use. The head it needs is continuous, odd and strictly rising in the flow, with a
/// slope that is positive and finite everywhere (it jumps where the forms meet):
///  - from load 3.5 to 4 a straight line joins the end values of the two forms; the source only says that
///    the true curve there is poorly defined [hds-5];
///  - the slope's share, which would leave a head below the invert at no flow, grows evenly up to a least
///    energy of a quarter of the bore [own]. Where it lowers the head, no more than a slope of 0.1 is
///    counted, the safe side [own]; a pipe that rises from its mouth counts as level;
///  - below a critical depth of a hundredth of the bore the head is proportional to the flow [own].
class Mouth {
 public:
  /// bore_m > 0; slope: fall of the pipe after the mouth over its length.
  Mouth(MouthEdge edge, double bore_m, double slope);

  /// Depth of still water over the invert that a flow needs; the negative for a backward flow.
  HeadAndSlope over_invert(double flow_m3s) const;
  /// The same over the axis of the pipe, to which elevations refer: half a bore less. As a control of a line:
  /// level in the box - axis >= this.
  HeadAndSlope over_axis(double flow_m3s) const;

  /// The flow that enters at a depth over the invert; zero at or below it. The inverse of `over_invert`.
  FlowAndSlope flow_at(double depth_over_invert_m) const;

  MouthRegime regime(double flow_m3s) const;

 private:
  struct Open;
  Open open_at(double critical_depth_m) const;
  HeadAndSlope open(double flow_m3s) const;
  HeadAndSlope drowned(double flow_m3s) const;

  MouthForm form_;
  double bore_m_;
  double slope_share_;  ///< Ks S, in bores
  double load_per_flow_;
  double film_flow_m3s_ = 0.0, film_head_m_ = 0.0;                 ///< up to here proportional
  double open_flow_m3s_, open_head_m_ = 0.0, open_depth_m_ = 0.0;  ///< end of the open form
  double drowned_flow_m3s_, drowned_head_m_ = 0.0;                 ///< start of the drowned form
};

}  // namespace runnel::losses
