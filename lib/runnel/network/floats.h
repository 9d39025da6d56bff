#pragma once
// The float valves of a tank: its own, and those of the lines into it that have one each.
#include <vector>

#include "runnel/network/model.h"

namespace runnel::network {

/// Those that shut some line into the tank, that which shuts at the lowest level first. Empty: none does.
std::vector<FloatValve> floats_of(const Model& model, const Tank& tank);
/// How high the tank fills: where the last float shuts, or the lip.
Length full_level(const Model& model, const Tank& tank);

}  // namespace runnel::network
