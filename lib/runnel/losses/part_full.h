#pragma once
// A round pipe that does not run full: water at atmospheric pressure, in steady uniform flow.
//
// Slope is the sine of the pipe's angle: metres of fall per metre of pipe, as a loss per metre is.
// Depth is measured square to the pipe. The critical depth and the Froude number take the pressure to be
// hydrostatic over that depth (no cosine of the slope): on a pipe steeper than about 1 in 5 (cosine 0.98)
// read them as approximate.
#include <optional>

#include "runnel/losses/friction.h"

namespace runnel::losses {

/// The wetted part of a circle. Source: geometry, as in [chow1959].
struct Segment {
  double area_m2 = 0.0;
  double wetted_m = 0.0;            ///< wetted perimeter
  double hydraulic_radius_m = 0.0;  ///< area / wetted perimeter; bore/4 when full
  double top_width_m = 0.0;
};

/// 0 <= depth_m <= bore_m.
Segment wetted_segment(double bore_m, double depth_m);

struct PartFull {
  double depth_m = 0.0;  ///< normal depth: the lower one where two depths carry the flow
  double velocity_ms = 0.0;
  double froude = 0.0;  ///< V / sqrt(g A / T)
  /// The flow lies between that of the full pipe and the highest part-full one (about 1.076 times it by
  /// Manning). The slightest disturbance fills such a pipe, so nobody should count on it.
  bool near_full = false;
};

/// Normal flow by the friction law of the full pipe, with the hydraulic diameter 4R in place of the bore and
/// the Reynolds number V 4R / nu: for Darcy-Weisbach that is Colebrook-White (or 64/Re) at the actual
/// Reynolds number and roughness / 4R, for Hazen-Williams V = const C R^a S^b with the law's own constants.
/// None if the pipe cannot carry the flow without running full, or if slope <= 0 with a flow. flow_m3s >= 0;
/// no flow gives depth 0. Source: [chow1959] for the hydraulic radius.
std::optional<PartFull> normal_flow(const FrictionLaw& law, double bore_m, double roughness_m, double hazen_c,
                                    double kinematic_viscosity_m2s, double slope, double flow_m3s);

/// The same by Manning's formula, V = R^(2/3) sqrt(S) / n, with the same n at every depth by convention:
/// measured n varies with depth [akgiray2004].
std::optional<PartFull> normal_flow_manning(double bore_m, double manning_n, double slope, double flow_m3s);

/// Depth at which a flow has the least energy: Q = sqrt(g) A sqrt(A/T). It approaches the bore for large
/// flows.
double critical_depth(double bore_m, double flow_m3s);

}  // namespace runnel::losses
