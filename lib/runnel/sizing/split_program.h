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
  std::vector<double> head_m;               ///< for each place
  network::SplitProof proof;                ///< its cost is what the prices prove
};

/// A point between the ends of a branch that water has to get over: the head above the branch must be its
/// `sink_m` plus what is lost on the way there.
struct SplitCrest {
  double along = 0.0;          ///< share of the branch that lies before it
  double sink_m = 0.0;         ///< its height
  std::vector<double> loss_m;  ///< lost on the way there, for each option
};

/// Adds rows by which `fall` plus the loss on the way to the crest is at most `most_m`. A column for each
/// size says how much of it lies before the crest: no more than there is (`shares`), and together the whole
/// way there. Sizes that lose least come first, as they are laid.
void add_crest(LinearProgramme& programme, const SplitCrest& crest,
               const std::vector<LinearProgramme::Entry>& shares, std::vector<LinearProgramme::Entry> fall,
               double most_m);

/// `crests`: those of each branch, or none at all. A branch begins with what loses least, which leaves the
/// most head at every point; how much of each size lies before a crest is then part of the programme, and
/// nothing is rounded. What the options themselves need is ignored, and the crests do not enter the proof,
/// which bounds the cost without them.
SplitAnswer cheapest_split(const network::TreeChoice& choice,
                           const std::vector<std::vector<SplitCrest>>& crests = {});

}  // namespace runnel::sizing
