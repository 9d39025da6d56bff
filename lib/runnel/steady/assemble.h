#pragma once
// From a system in words to a kernel in numbers.
#include <vector>

#include "runnel/steady/kernel.h"
#include "runnel/steady/line_plan.h"

namespace runnel::steady {

struct Assembly {
  Kernel kernel;
  std::vector<LinePlan> plans;  ///< one a pipeline
  std::vector<int> line_link;   ///< pipeline -> link
  std::vector<int> box_node, tank_node, joint_node;
  std::vector<int> outlet_node;  ///< -1: the outlet is the end of its one pipeline
  std::vector<int> outlet_link;  ///< the link whose flow comes out of it
  double kinematic_viscosity_m2s = 0.0;
};

/// `floors` false: lines run full whatever the grade line does, and draws are always met.
Assembly assemble(const network::System& system, bool floors = true);

}  // namespace runnel::steady
