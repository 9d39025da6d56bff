#pragma once
// From a model with loops or several sources to a choice in numbers. Flows there depend on the sizes, so the
// kernel that `runnel flow` solves is taken whole, with crests, mouths and boxes that may run low; only the
// taps differ, which draw what is asked and no more. A real design draws at least that much and so has no
// more head anywhere: whatever works in truth works here.
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/sizing/design_tree.h"
#include "runnel/sizing/loop_choice.h"
#include "runnel/sizing/price_list.h"

namespace runnel::sizing {

struct DesignLoops {
  LoopChoice choice;
  std::vector<int> lines;               ///< for each run, its pipeline in the model
  std::vector<std::vector<int>> sizes;  ///< for each option of each run, its place in the line's `choice`
  std::vector<int> line_link;           ///< for each pipeline, its link in the kernel
  std::vector<std::string> places;      ///< for each node, its place; empty if it has none of its own
  std::vector<std::string> unpriced;
};

/// Errors if no pipe of a line has a price or is strong enough, or if more is asked than all springs give.
Checked<DesignLoops> design_loops(const network::Model& model, const PriceList& prices);

/// The sizes of the lines that a choice of options stands for.
Sizes sizes_of(const network::Model& model, const DesignLoops& loops, const std::vector<int>& options);

}  // namespace runnel::sizing
