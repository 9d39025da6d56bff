#pragma once
// The float valves of a tank: its own, and those that lines into it have.
#include <vector>

#include "runnel/network/model.h"

namespace runnel::network {

/// Those that shut some line into the tank, the one that shuts at the lowest level first.
std::vector<FloatValve> floats_of(const Model& model, const Tank& tank);
/// How high the tank fills: to where the last float shuts, which is no higher than the lip, or to the lip.
Length full_level(const Model& model, const Tank& tank);
/// A millimetre below that, where its float valve is still open and its lines run.
Length just_below_full(const Model& model, const Tank& tank);
/// The level at which every one of some float valves is open, a millimetre below where it shuts at least.
Length all_open(const std::vector<FloatValve>& floats);

/// A float valve moves by no less.
inline constexpr double least_float_band_m = 0.02;

/// A float valve as one would put it on a tank that has none: it shuts a little below the lip, and no higher
/// than the inlet.
FloatValve usual_float(const Tank& tank);

}  // namespace runnel::network
