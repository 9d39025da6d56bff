#pragma once
// The model with what an answer tells to do. Not for users of the library.
#include <optional>
#include <vector>

#include "runnel/network/model.h"
#include "runnel/verdict/answer.h"

namespace runnel::verdict {

/// With the air valves that let ways start and needs be met, and with what is told of needs that one thing
/// alone cures. None where nothing of that kind is told.
std::optional<network::Model> with_told_acts(const network::Model& model, const std::vector<Run>& runs);

}  // namespace runnel::verdict
