#pragma once
// Where water may leave a tank, and enter it.
#include <optional>

#include "runnel/network/model.h"

namespace runnel::network {

/// The lowest point by which water may leave a tank through a line that leads out; none if none does.
std::optional<Length> lowest_mouth(const Model& model, const Tank& tank);

/// Whether the line into a tank enters so low that it drains it as well, as where two are joined at the
/// bottom: below its middle (a judgement).
bool enters_low(const Tank& tank);

}  // namespace runnel::network
