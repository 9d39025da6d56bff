#pragma once
// The grade line along one solved pipeline, from its end back, H_i = max(floor_i, H_(i+1) + loss_i); the
// states of its reaches, where part-full ones refill, and where water stands when none flows. DEVELOPERS.md
// derives it under "How a steady state is found, and why it is the only one".
#include <optional>

#include "runnel/steady/line_plan.h"
#include "runnel/steady/state.h"

namespace runnel::steady {

/// What the network says about a line's two ends.
struct LineEnds {
  double flow_m3s = 0.0;
  std::optional<double> start_head_m, end_head_m;  ///< none: no water stands there
  bool end_in_air = false;     ///< the end head is that of the open air (or of an opening behind the end)
  bool held_at_tap = false;    ///< the tap at its end is opened so far that no more comes
  double end_s2m5 = 0.0;       ///< loss of an opening behind the last vertex
  bool mouth_governs = false;  ///< the head left over at the source is lost at the mouth there
  bool depths = true;          ///< compute how deep part-full stretches run
};

/// Points, reaches, flow and condition of a line. Head left over at the source is taken by a throttle (the
/// reducing valve that governs, a float valve, or a tap that is not opened wide), and the grade line upstream
/// of it starts from the source.
LineState trace_line(const network::System& system, const network::Line& line, const LinePlan& plan,
                     const LineEnds& ends);

}  // namespace runnel::steady
