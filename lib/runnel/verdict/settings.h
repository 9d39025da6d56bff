#pragma once
// The ways of running a model that an answer looks at.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/model.h"

namespace runnel::verdict {

inline constexpr const char* as_drawn = "normal";

/// The one named; or as drawn, and then every setting in the model's order.
std::vector<std::string> settings_to_run(const network::Model& model,
                                         const std::optional<std::string>& named);

}  // namespace runnel::verdict
