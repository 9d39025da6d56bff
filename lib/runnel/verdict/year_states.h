#pragma once
// The year in the states that the system will be in: siphons that a dry month empties are broken, the air of
// the start is in the lines as far as the current leaves it, and a way that trapped air blocks brings
// nothing.
#include <vector>

#include "runnel/filling/year.h"
#include "runnel/network/system.h"

namespace runnel::verdict {

/// As filling::look_at_year. Never throws for a system with a year.
std::vector<filling::YearPart> look_at_year(const network::System& system);

}  // namespace runnel::verdict
