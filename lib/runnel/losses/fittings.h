#pragma once
// Published loss coefficients of valves and fittings: h = K V^2/(2g), V in the bore of the part's pipe.
//
// One table is the default for all: n times the fully turbulent friction factor fT of the size [crane-tp410];
// what it lacks (unions, couplings, inlets) comes from the tables named in each row. Published K scatter by a
// factor of two and more, so each comes with the lowest and the highest value found in print, and a model can
// set its own.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace runnel::losses {

struct PublishedLoss {
  double k = 0.0;      ///< on the velocity in the given bore
  std::string source;  ///< what the value is, and the key of its source
  double low = 0.0;    ///< lowest published value found
  double high = 0.0;   ///< highest
};

/// K of one part by its trade word ("ball_valve", "elbow_90"), on a bore [m], open from 0 (shut) to 1.
///
/// Part open: gate valves from 1/4 by the published positions, log K linear in between; butterfly valves from
/// 1/3 (60 degrees) by published angles, 90 degrees of turn being shut. Every other valve part open, every
/// shut valve and every word not in the table give none: the model must then set a loss. Parts that cannot
/// shut ignore `open`.
std::optional<PublishedLoss> published_loss(std::string_view type, double bore_m, double open = 1.0);

/// Every word `published_loss` knows, in the order of the table.
std::vector<std::string> fitting_types();

/// Friction factor of fully turbulent flow in clean steel pipe of a size, 1/2 to 6 in: the printed values
/// [crane-tp410], at Schedule 40 bores, linear in the logarithm of the bore between them; beyond the ends the
/// last value is kept.
double fully_turbulent_factor(double bore_m);

}  // namespace runnel::losses
