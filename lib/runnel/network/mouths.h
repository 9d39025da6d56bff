#pragma once
// Where water may leave a tank.
#include <optional>

#include "runnel/network/model.h"

namespace runnel::network {

/// The lowest point by which water may leave a tank through a line that leads out; none if none does.
std::optional<Length> lowest_mouth(const Model& model, const Tank& tank);

}  // namespace runnel::network
