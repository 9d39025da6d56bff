#pragma once
// The cheapest way to put every line of a tree together from several sizes, when the flows are known: a
// linear programme in the share of each branch that is laid in each size [karmeli1968]. Solved by the simplex
// code of Clp (COIN-OR), whose dual values are the proof. Never dearer than whole lines, so it bounds them as
// well.
#include <vector>

#include "runnel/network/choice.h"
#include "runnel/sizing/linear_programme.h"

namespace runnel::sizing {

struct SplitAnswer {
  bool found = false;  ///< false: no choice meets all floors, or the simplex code gave up
  double cost = 0.0;
  std::vector<std::vector<double>> shares;  ///< of each branch in each of its options; at most two are not
                                            ///< zero where one floor governs
  std::vector<double> head_m;               ///< one a place
  network::SplitProof proof;                ///< its cost is what the prices prove
};

/// A point of a branch between its ends that water has to get over: the head above the branch must be its
/// `sink_m` and what the way there loses.
struct SplitCrest {
  double along = 0.0;          ///< share of the branch that lies before it
  double sink_m = 0.0;         ///< its height
  std::vector<double> loss_m;  ///< the way there laid in each option
};

/// Rows by which `fall` and the loss on the way to the crest are at most `most_m`. A column for what lies of
/// each size before the crest: no more than there is of it (`shares`), and together the way to the crest.
/// Those that lose least come first there, as they are laid.
void add_crest(LinearProgramme& programme, const SplitCrest& crest,
               const std::vector<LinearProgramme::Entry>& shares, std::vector<LinearProgramme::Entry> fall,
               double most_m);

/// `crests`: of each branch, or none at all. A branch is laid with what loses least first, which leaves most
/// head to every point of it; how much of each size lies before a crest is then part of the programme, and
/// nothing is rounded. What the options themselves ask for (needs) is not looked at, nor do the crests enter
/// the proof: it bounds the cost without them.
SplitAnswer cheapest_split(const network::TreeChoice& choice,
                           const std::vector<std::vector<SplitCrest>>& crests = {});

}  // namespace runnel::sizing
