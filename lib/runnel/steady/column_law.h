#pragma once
// A law for a line whose loss depends on where its ends stand and not on their difference alone, such as one
// with air pockets trapped in it: what head its source must have for a flow to reach its sink.

namespace runnel::steady {

/// The head a source must have, with its exact slopes.
struct Need {
  double head_m = 0.0;
  double flow_slope_sm2 = 0.0;  ///< d head / d flow, > 0 and finite; at zero flow 0 where a mouth governs
                                ///< whose losses are not smoothed
  double sink_slope = 0.0;      ///< d head / d sink head, 0 .. 1
};

class ColumnLaw {
 public:
  virtual ~ColumnLaw() = default;
  /// For a flow >= 0 towards a sink head, both heads above the kernel's datum. Continuous; rises strictly
  /// with the flow and does not fall with the sink head, so that the flow it lets through rises with the head
  /// above and falls with the head below, as every link's must (DEVELOPERS.md). Must not allocate.
  virtual Need need(double flow_m3s, double sink_head_m) const = 0;
};

}  // namespace runnel::steady
