#pragma once
// Sudden changes of bore. Both coefficients are on the velocity in the SMALLER bore, which is the
// upstream one of an expansion and the downstream one of a contraction: h = K V_small^2/(2g). They are
// losses of total energy; the change of velocity head itself is not in them.

namespace runnel::losses {

/// Sudden expansion, (1 - (d/D)^2)^2, 0 < small_bore <= large_bore. Exact momentum balance with even
/// velocity. Source: [borda-carnot].
double expansion_loss(double small_bore_m, double large_bore_m);

/// Sudden sharp contraction, 0.5 (1 - (d/D)^2), 0 < small_bore <= large_bore. Chosen among several in print
/// because it tends to the 0.5 of a sharp inlet from a tank, and lies a little above measured values
/// (`contraction_loss_measured`). Source: [crane-tp410].
double contraction_loss(double small_bore_m, double large_bore_m);

/// Sudden contraction from the jet's measured narrowest area, (1/Cc - 1)^2, with Weisbach's Cc by area ratio
/// 0.1 to 0.9, linear between the printed ratios and to Cc = 1 at ratio 1; below 0.1 the first value is kept.
/// For comparison only. Source: [streeter-wylie].
double contraction_loss_measured(double small_bore_m, double large_bore_m);

/// K on the smaller bore for flow from one bore into the next, whichever is larger.
double area_change_loss(double from_bore_m, double to_bore_m);

}  // namespace runnel::losses
