#pragma once
// What rounding may take from a need without failing it.

namespace runnel::verdict {

/// Rounding must not fail a need that is met exactly. The energy limit of the solver is 1e-9 m, its flow
/// limit 1e-10 of the total, and the events of a filling are located to less than a second in twelve days: a
/// part in a million is far above noise and far below any gauge.
inline constexpr double rounding = 1e-6;

}  // namespace runnel::verdict
