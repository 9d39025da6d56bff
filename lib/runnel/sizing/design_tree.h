#pragma once
// From a model whose pipes are left open to a choice in numbers. What is asked at the places are the design
// flows, which add up along a tree: those of the hours in which a line carries least, and what a tank passes
// on in the mean of the day. Every line that runs unthrottled carries at least its design flow, losses rise
// with flow, and requirements that no sum expresses are left out: so no real choice is cheaper than the
// cheapest here.
#include <string>
#include <vector>

#include "runnel/network/choice.h"
#include "runnel/network/system.h"
#include "runnel/sizing/price_list.h"
#include "runnel/sizing/split_program.h"

namespace runnel::sizing {

/// A branch of the tree as a line of the model.
struct DesignLine {
  int line = -1;  ///< pipeline of the model; -1: the source of a part of the system, which costs nothing
  bool forward = true;
  double flow_m3s = 0.0;
  std::vector<int> sizes;  ///< for each option, its place in the line's `choice`; -1 for a line that is laid
  std::vector<double> crests_m;    ///< for each option, its need without that of the line's start
  std::vector<SplitCrest> crests;  ///< the same, crest by crest, for a line laid in several sizes
};

struct DesignTree {
  network::TreeChoice choice;
  std::vector<DesignLine> lines;      ///< one for each branch
  std::vector<int> ends;              ///< the place at the lower end of each branch; -1 for a source
  std::vector<std::string> unpriced;  ///< pipes passed over because their price is unknown
};

/// One size for each pipeline, by its number in its `choice`; ignored for a line that is laid.
using Sizes = std::vector<int>;

/// The model with a pipe on every line.
network::Model laid(const network::Model& model, const Sizes& sizes);

/// Where the water stands in tanks that feed others. A need may be met once a tank has filled, so no choice
/// is left out for what a tank gives before.
enum class Tanks { full, as_drawn };

/// Errors if no pipe of a line has a price, or if more is asked than comes. Neither a tree nor a finding
/// where a part of the system is no tree (design_parts.h): such a system is sized otherwise (size_loops.h).
Checked<DesignTree> design_tree(const network::Model& model, const PriceList& prices,
                                Tanks tanks = Tanks::full);

inline bool is_no_tree(const Checked<DesignTree>& tree) { return !tree && tree.findings.empty(); }

/// The sizes of the lines that a choice of options stands for.
Sizes sizes_of(const network::Model& model, const DesignTree& tree, const std::vector<int>& options);

}  // namespace runnel::sizing
