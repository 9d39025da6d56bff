#pragma once
// A branch that has to start while the rest of the system runs.
//
// The head that has to lift water over the pockets of a branch is the head at its tee with everything else
// running and the branch still. That is less than the source's level, from which a way is started alone
// (air/start_up.h). The whole system is solved with the branch shut, both with all the air of the rest and
// with what each law leaves of it in the end; the lowest head of these states counts.
//
// Where that is not enough, the order may decide: the branch is opened first with everything else shut, its
// current carries off the air it can, and then the rest is opened. Again each law ends in a state of its own.
// If the air stays in it, the branch ends in the same state whatever is opened first, since there is only one
// state with given air (DEVELOPERS.md).
#include <vector>

#include "runnel/air/at_first.h"
#include "runnel/air/crests.h"

namespace runnel::air {

class AirStates;

/// The branches of every way that have a pocket between their tee and the next one, in the order of the ways
/// and along them. Gives at most `most` of them and writes to `left_out` how many more there are.
std::vector<BranchStart> branch_starts(const network::System& system, const std::vector<Way>& ways,
                                       AirStates& states, std::size_t most, std::size_t& left_out);

}  // namespace runnel::air
