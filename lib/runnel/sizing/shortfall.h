#pragma once
// Which needs no pipe can meet, by how much, and the smallest change that would mend each by itself.
#include "runnel/sizing/design_loops.h"
#include "runnel/sizing/size.h"

namespace runnel::sizing {

/// For a design whose floors cannot all be met: one for each place, the worst first.
std::vector<Shortfall> shortfalls(const network::Model& model, const DesignTree& tree,
                                  const PriceList& prices);

/// The same with loops: where the widest pipes leave too little head if all that is asked is drawn.
std::vector<Shortfall> shortfalls_with_loops(const network::Model& model, const DesignLoops& loops,
                                             const PriceList& prices);

}  // namespace runnel::sizing
