#pragma once
// When water is said to run.

namespace runnel::network {

/// A flow of no more than this is none, whoever asks: a drop (0.05 mL, common practice, no source) a minute.
/// It fills no cup in a day, and lies well above what the balances of a solver leave open: 1e-10 of all flow.
inline constexpr double no_flow_m3s = 1e-9;

/// The least flow that an answer shows, which is also the least that may be written: a drop in half a day.
/// What a solver finds below it is rounding and is set to nothing where an answer is written down, so that a
/// line stands still or moves for every reader alike. No question of whether water runs: that is
/// `no_flow_m3s`.
inline constexpr double flow_grain_m3s = 1e-12;

}  // namespace runnel::network
