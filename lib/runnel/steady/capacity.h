#pragma once
// What one line could carry between two given heads, found by bracketing on its own law alone.
#include "runnel/steady/kernel.h"

namespace runnel::steady {

struct Capacity {
  double flow_m3s = 0.0;
  /// The control that governs (index into Kernel::controls), even if it lets nothing through; -1: the link is
  /// shut, never carries water that way, or is limited by its float valve alone.
  int control = -1;
};

/// The flow (>= 0) that a link's law gives between two heads, its valves as they stand, from a to b or from b
/// to a. Every loss rises strictly with flow, so the answer is unique; it is found to 1e-14 of itself.
Capacity carries(const Kernel& kernel, const Link& link, double head_a_m, double head_b_m,
                 bool forward = true);

}  // namespace runnel::steady
