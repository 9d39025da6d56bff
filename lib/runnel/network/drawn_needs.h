#pragma once
// What people draw at a tap is a need for so much.
#include "runnel/network/model.h"

namespace runnel::network {

/// The model with the draw of each tap in its busiest hour among its needs, also where it states a need for
/// less flow there itself. `resolve` does so too.
Model with_draws_asked(Model model);

/// Whether a model states any need at a place.
bool asked_at(const Model& model, const std::string& place);

/// The greatest flow that is stated as a need at a place; none if no flow is.
Flow flow_asked_at(const Model& model, const std::string& place);

}  // namespace runnel::network
