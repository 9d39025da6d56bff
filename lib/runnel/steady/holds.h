#pragma once
// What holds each place: its balance, its lip or its draw; and whether that is kept.
#include "runnel/steady/workspace.h"

namespace runnel::steady {

/// Net inflow of every node at the present flows, and the worst of what no hold accounts for.
void balance_places(Workspace& work);

/// How far a head stands beyond what holds it: above its lip, below the floor of a draw that it meets.
double worst_hold_m(const Workspace& work);

/// Chooses what holds each place anew, by the projection that complementarity means: spill = max(0, spill +
/// (head - lip) / c), draw = its nearest in [0, asked] to draw + (head - floor) / c, for any c > 0.
void choose_holds(Workspace& work);

/// What is wrong with the present state, in metres of head summed over links and places. Along a Newton
/// direction it falls at first, whatever the laws.
double wrong_m(const Workspace& work);

/// What the storage of a step in time takes in (steady/slow_settling.h); none otherwise.
double stored_m3s(const Workspace& work, std::size_t node);

}  // namespace runnel::steady
