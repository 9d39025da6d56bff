#pragma once
// Openings that water falls through: a sharp hole, and a riser drilled with rows of holes. Flow out of
// the water into free air; for a drowned opening take the difference of the two levels as the head.
#include <vector>

namespace runnel::losses {

/// A flow and its derivative with respect to head or level, from one evaluation.
struct FlowAndSlope {
  double flow_m3s = 0.0;
  double slope_m2s = 0.0;  ///< d flow / d head [m2/s]
};

/// Discharge coefficients, Q = Cd A sqrt(2 g h).
inline constexpr double sharp_hole_cd = 0.62;  ///< sharp edged, typical [britannica1911]
inline constexpr double short_tube_cd = 0.81;  ///< cylindrical, short [molesworth-book]
inline constexpr double ragged_hole_cd = 0.4;  ///< torch cut [hec-22], from memory

/// Measured Cd of a sharp 1/2 in (12.7 mm) hole under 1 to 20 ft (0.305 to 6.1 m) of head, linear in between;
/// outside that the end value is kept. Source: [britannica1911].
double measured_sharp_hole_cd(double head_m);

/// Flow through a hole whose centre lies head_m below the water; zero for head_m <= 0. Q = Cd A sqrt(2 g h).
/// Its error is (r/h)^2/32 for a hole in a wall; a hole that is not well covered needs `hole_flow`. Source:
/// [britannica1911].
FlowAndSlope orifice_flow(double head_m, double bore_m, double cd);

/// The K of a hole in a line, on the velocity in a pipe of another bore: (A_pipe / (Cd A_hole))^2.
double orifice_loss(double hole_bore_m, double cd, double pipe_bore_m);

/// Flow through a round hole in a vertical wall, with the water depth_m above its lowest point; continuous in
/// value and slope from the first drop to deeply covered. Each strip of the hole flows with its own head:
/// Q = Cd sqrt(2g) * integral of width(y) sqrt(depth - y). [own, from Torricelli's law] Accuracy of the
/// integral: 2e-9 of the flow, 1e-5 of the slope. Cd really rises as the water falls towards the hole
/// [prohaska2008], which a constant cd ignores.
FlowAndSlope hole_flow(double depth_m, double bore_m, double cd);

/// One row of holes of a riser.
struct HoleRow {
  double centre_m = 0.0;  ///< height of their centres, on the same datum as the water level
  double bore_m = 0.0;
  int count = 1;
};

/// Flow into an upright drilled riser, with the water around it at level_m, while the level inside stays
/// below the holes that flow. The holes must be small beside the riser, because the curve of its wall is
/// neglected.
FlowAndSlope drilled_riser_flow(const std::vector<HoleRow>& rows, double level_m, double cd = sharp_hole_cd);

}  // namespace runnel::losses
