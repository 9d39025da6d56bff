#pragma once
// The states in which a model is drawn: all at once, or tap by tap as their hours have it.
#include <vector>

#include "runnel/network/model.h"

namespace runnel::sizing {

/// The model in each turn of its taps (verdict/turns.h), with what is asked of it in those hours alone; the
/// model itself where some hour finds everything drawn.
std::vector<network::Model> design_turns(const network::Model& model);

}  // namespace runnel::sizing
