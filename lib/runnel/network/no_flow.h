#pragma once
// The threshold for whether water runs.

namespace runnel::network {

/// Every room takes a flow of at most this as none: a drop (0.05 mL, common practice, no source) a minute. It
/// does not fill a cup in a day, and is well above the error that solvers leave in a balance: 1e-10 of all
/// flow.
inline constexpr double no_flow_m3s = 1e-9;

/// The least flow that an answer shows, and the least that a model may state: a drop in half a day. What a
/// solver finds below it is rounding, and is set to zero where an answer is written down, so that a line
/// stands still or moves for every reader alike. Whether water runs is decided by `no_flow_m3s`, not by this.
inline constexpr double flow_grain_m3s = 1e-12;

}  // namespace runnel::network
