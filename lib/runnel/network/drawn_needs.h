#pragma once
// What people draw at a tap is a need for so much.
#include "runnel/network/model.h"

namespace runnel::network {

/// The model with the draw of each tap in its busiest hour among its needs, also where it states a need for
/// less flow there itself. `resolve` does so too.
Model with_draws_asked(Model model);

}  // namespace runnel::network
