#pragma once
// `size` for a model with loops or several sources.
#include "runnel/sizing/size.h"

namespace runnel::sizing {

/// The best that a search finds among choices that pass the full trial, with a lower bound on the cost;
/// proved where few enough choices are left to go through them all.
Checked<SizeAnswer> size_loops(const network::Model& model, const PriceList& prices,
                               const SizeLimits& limits);

}  // namespace runnel::sizing
