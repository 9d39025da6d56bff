#pragma once
// The grade line along one solved pipeline: backward from its end, H_i = max(floor_i, H_(i+1) + loss_i),
// the states of its reaches, where part-full ones refill, and what stands still at no flow.
// Method: shared derivation in DEVELOPERS.md, "Lines that do not run full".
#include <optional>

#include "runnel/steady/line_plan.h"
#include "runnel/steady/state.h"

namespace runnel::steady {

/// What the network says about a line's two ends.
struct LineEnds {
  double flow_m3s = 0.0;
  std::optional<double> start_head_m, end_head_m;  ///< none: no water stands there
  bool end_in_air = false;     ///< the end head is that of the open air (or of an opening behind the end)
  double end_s2m5 = 0.0;       ///< an opening behind the last vertex
  bool mouth_governs = false;  ///< what head is left over at the source is lost at the mouth there
  bool depths = true;          ///< work out how deep part-full stretches run
};

/// Fills points, reaches, flow and condition of a line. `head_lost_m` is what the trace leaves over at the
/// source: a throttle (reducing valve, float valve) takes it, and the part above it stands at the source's
/// head.
LineState trace_line(const network::System& system, const network::Line& line, const LinePlan& plan,
                     const LineEnds& ends);

}  // namespace runnel::steady
