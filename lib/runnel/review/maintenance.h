#pragma once
// What to open, drain, clean and measure, and how often, from the model's own parts.
#include <string>
#include <vector>

#include "runnel/network/system.h"

namespace runnel::review {

/// From the most frequent to the rarest.
enum class Often { each_week, after_each_flood, each_month, twice_a_year, each_year, dry_season };

struct Task {
  Often often = Often::each_year;
  std::string what;  ///< one sentence, with the parts named
  std::string source;
};

/// In the order of `Often`.
std::vector<Task> maintenance_of(const network::System& system);

}  // namespace runnel::review
