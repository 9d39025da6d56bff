#pragma once
// What a tee costs. By itself a joint costs nothing: its lines are taken to meet without loss. A joint that
// says which two of its lines lie straight is a tee, and its lines pay for it.
#include "runnel/network/system.h"

namespace runnel::network {

/// K that a line of a joint pays there, on its own bore; 0 where the joint does not say how its lines lie.
/// One line carries all the water: the only one that comes to the joint, or the only one that leaves it. What
/// goes straight on between that and another pays the run, what turns pays the branch (losses/fittings.h).
/// Where no line carries all of it, those that leave pay, all but the straight one for a branch: more is not
/// asked.
double tee_loss(const System& system, int place, int line);

}  // namespace runnel::network
