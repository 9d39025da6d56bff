#include "runnel/steady/datum.h"

#include <algorithm>
#include <cmath>

namespace runnel::steady {

double local_datum_m(const Kernel& kernel) {
  if (!kernel.columns.empty()) return 0.0;
  double lowest_m = unbounded, highest_m = -unbounded;
  const auto see = [&](double head_m) {
    if (!std::isfinite(head_m)) return;
    lowest_m = std::min(lowest_m, head_m);
    highest_m = std::max(highest_m, head_m);
  };
  for (const KernelNode& node : kernel.nodes) {
    if (node.fixed) see(node.head_m);
    see(node.lip_m);
    see(node.draw_floor_m);
  }
  for (const Control& control : kernel.controls) {
    if (!control.from_node) see(control.source_head_m);
    if (!control.to_node) see(control.sink_head_m);
  }
  return lowest_m <= highest_m ? std::round(0.5 * (lowest_m + highest_m)) : 0.0;
}

Control above(Control control, double datum_m) {
  if (!control.from_node) control.source_head_m -= datum_m;
  if (!control.to_node) control.sink_head_m -= datum_m;
  return control;
}

Kernel above(Kernel kernel, double datum_m) {
  for (KernelNode& node : kernel.nodes) {
    if (node.fixed) node.head_m -= datum_m;
    node.lip_m -= datum_m;
    node.draw_floor_m -= datum_m;
  }
  for (Control& control : kernel.controls) control = above(control, datum_m);
  kernel.datum_m += datum_m;
  return kernel;
}

void raise_heads(KernelState& state, double datum_m) {
  for (double& head_m : state.head_m) head_m += datum_m;
}

}  // namespace runnel::steady
