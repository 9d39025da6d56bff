#pragma once
// The cheapest way to put every line of a tree together from several sizes, when the flows are known: a
// linear programme in the share of each branch that is laid in each size [karmeli1968]. Solved by the simplex
// code of Clp (COIN-OR), whose dual values are the proof. Never dearer than whole lines, so it bounds them as
// well.
#include <vector>

#include "runnel/network/choice.h"

namespace runnel::sizing {

struct SplitAnswer {
  bool found = false;  ///< false: no choice meets all floors, or the simplex code gave up
  double cost = 0.0;
  std::vector<std::vector<double>> shares;  ///< of each branch in each of its options; at most two are not
                                            ///< zero where one floor governs
  std::vector<double> head_m;               ///< one a place
  network::SplitProof proof;                ///< its cost is what the prices prove
};

/// Crests between the ends of a branch (needs) are not looked at: make each crest the end of a branch.
SplitAnswer cheapest_split(const network::TreeChoice& choice);

}  // namespace runnel::sizing
