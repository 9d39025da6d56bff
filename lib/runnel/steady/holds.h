#pragma once
// What determines the head of each place (its balance, its lip or its draw), and how far it is satisfied.
#include "runnel/steady/workspace.h"

namespace runnel::steady {

/// Computes the net inflow of every node at the present flows, and the worst that its hold does not allow.
void balance_places(Workspace& work);

/// How far the worst head is from what its hold allows, such as above a lip or below the floor of a met draw.
double worst_hold_m(const Workspace& work);

/// Chooses anew what holds each place, by the projection equivalent to complementarity, for any c > 0:
/// spill = max(0, spill + (head - lip) / c), and draw = draw + (head - floor) / c clamped to [0, asked].
void choose_holds(Workspace& work);

/// The error of the present state, in metres of head summed over links and places. Along a Newton direction
/// it falls at first, whatever the laws.
double wrong_m(const Workspace& work);

/// The flow that a place takes into storage in a step in time (steady/slow_settling.h); otherwise zero.
double stored_m3s(const Workspace& work, std::size_t node);

}  // namespace runnel::steady
