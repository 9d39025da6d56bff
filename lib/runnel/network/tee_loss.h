#pragma once
// The losses of a tee. By itself a joint has none: its lines are taken to meet without loss. A joint that
// says which two of its lines run straight through is a tee, and has losses.
#include "runnel/network/system.h"

namespace runnel::network {

/// K of a line at a joint, on its own bore; 0 if the joint does not say how its lines lie. One line carries
/// all the water: the only one that comes to the joint, or the only one that leaves it. Between that one and
/// another, straight on costs the loss of a run, a turn that of a branch (losses/fittings.h). If no line
/// carries all the water, each line that leaves has a loss: the straight ones that of a run, the others that
/// of a branch.
double tee_loss(const System& system, int place, int line);

}  // namespace runnel::network
