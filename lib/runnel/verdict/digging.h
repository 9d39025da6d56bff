#pragma once
// How deep anybody digs.

namespace runnel::verdict {

/// No machine that reaches such a place digs deeper than this (common practice, no source).
inline constexpr double most_dug_m = 3.0;

}  // namespace runnel::verdict
