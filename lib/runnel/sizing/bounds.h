#pragma once
// Figures at the ends of what a search may find.
#include <limits>

namespace runnel::sizing {

/// More than any loss or cost.
inline constexpr double endless = std::numeric_limits<double>::infinity();
/// Less than any head: no bound.
inline constexpr double nothing = -endless;
/// Far below what any head could be [m].
inline constexpr double hopeless_m = -1e6;
/// Heads closer than this count as equal [m].
inline constexpr double nanometre = 1e-9;
/// Costs closer than this share count as equal.
inline constexpr double same_cost = 1e-9;

}  // namespace runnel::sizing
