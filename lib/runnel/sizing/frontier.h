#pragma once
// The trade-off: what it costs to bring more than is asked, or less. One row a choice that no other beats in
// both.
#include <vector>

#include "runnel/sizing/size.h"

namespace runnel::sizing {

struct FrontierRow {
  double flow_m3s = 0.0;  ///< all asks together, at the most that this choice carries in their proportion
  double share = 0.0;     ///< of what is asked
  double cost = 0.0;
  bool chosen = false;  ///< the choice of the answer itself
  Sizes sizes;
};

/// By flows and heads alone: what only the full trial shows is not looked at.
std::vector<FrontierRow> frontier(const network::Model& model, const SizeAnswer& answer);

}  // namespace runnel::sizing
