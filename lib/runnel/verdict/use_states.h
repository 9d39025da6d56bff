#pragma once
// The states that users and float valves bring a system to in a day, as far as they decide how fast water
// runs: which taps are open, which float valves, and whether boxes that store are full.
#include <vector>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {

struct UseState {
  network::System system;
  steady::State state;
  Sentence when;  ///< "From 6:00 on, once the tanks are full"
};

/// At each hour at which some draw of a tap or a joint begins or ends (as drawn if there are none): as the
/// levels are drawn, with all tanks full, with one float valve open and the other tanks full, and with all
/// float valves open. Then each tap open alone; the moments of a usual day at which tanks that are filled
/// from below stand low; and where some tap or float valve lets a box fill that stores water, all these with
/// the box brim-full. The system as it is given is not among them, nor what does not settle. Of large
/// villages some of these are left out (use_states.cpp).
std::vector<UseState> use_states(const network::System& system);

/// Whether some are left out, so that what holds in the others need not hold in them.
bool leaves_out_uses(const network::System& system);

}  // namespace runnel::verdict
