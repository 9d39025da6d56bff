#pragma once
// A law for a line whose loss depends on the two end heads and not on their difference alone, such as one
// with air pockets trapped in it: the head its source must have for a flow to reach its sink.

namespace runnel::steady {

/// The head a source must have, with its exact slopes.
struct Need {
  double head_m = 0.0;
  double flow_slope_sm2 = 0.0;  ///< d head / d flow, > 0 and finite; may be 0 at zero flow where a mouth
                                ///< whose losses are not smoothed governs
  double sink_slope = 0.0;      ///< d head / d sink head, 0 .. 1
};

class ColumnLaw {
 public:
  virtual ~ColumnLaw() = default;
  /// For a flow >= 0 towards a sink head; both heads are above the kernel's datum. Must be continuous, rise
  /// strictly with the flow and not fall with the sink head, so that the flow the line carries rises with the
  /// head above and falls with the head below, as every link's must (DEVELOPERS.md). Must not allocate.
  virtual Need need(double flow_m3s, double sink_head_m) const = 0;
};

}  // namespace runnel::steady
