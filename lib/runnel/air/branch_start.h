#pragma once
// A branch that has to start while the rest of the system runs.
//
// The head that lifts a branch over its air is the head at its tee with everything else running and the
// branch still. That is less than the source's level, from which a way is started alone (air/start_up.h). The
// whole system is solved with the branch shut, with the air of the rest at first and as each law leaves it in
// the end; the lowest head of these states is the one that counts.
//
// Where that is not enough, order may decide: the branch is opened first with everything else shut, its
// current carries off the air it can, and then the rest is opened. Each law has its own end again. With the
// air still in it the branch ends in the same state whatever is opened first, for a state with given air is
// the only one (DEVELOPERS.md).
#include <vector>

#include "runnel/air/at_first.h"
#include "runnel/air/crests.h"

namespace runnel::air {

class AirStates;

/// For each way the branches on which a pocket stands between its tee and the next; in the order of the ways
/// and along them. At most `most` of them; how many more there are is put into `left_out`.
std::vector<BranchStart> branch_starts(const network::System& system, const std::vector<Way>& ways,
                                       AirStates& states, std::size_t most, std::size_t& left_out);

}  // namespace runnel::air
