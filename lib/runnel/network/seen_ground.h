#pragma once
// How much ground between two points of a survey somebody still sees: whether a high point may hide there.
#include <algorithm>

namespace runnel::network {

/// How far somebody standing at one end sees whether the ground rises between [m]; common practice, no
/// source.
inline constexpr double seen_at_a_glance_m = 100.0;

/// If two neighbouring points span such a share of a line, the others say nothing of its course; common
/// practice, no source.
inline constexpr double nearly_all = 0.8;

/// Over so much ground nobody knows that nothing rises [m]; common practice, no source.
inline constexpr double too_far_m = 1000.0;

/// How far apart two neighbouring points of a survey may lie on a line of this length [m].
inline double farthest_apart_m(double line_m) {
  return std::clamp(nearly_all * line_m, seen_at_a_glance_m, too_far_m);
}

}  // namespace runnel::network
