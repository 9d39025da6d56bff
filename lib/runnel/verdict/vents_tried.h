#pragma once
// What air valves bring at the places where air is told to hold a need back. Not for users of the library.
#include <vector>

#include "runnel/network/model.h"
#include "runnel/network/system.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// Adds the places that are not among them yet; whether there were any.
bool add_places(const std::vector<AirPlace>& found, std::vector<AirPlace>& places);

/// With air valves at those places.
network::Model with_air_valves(network::Model model, const std::vector<AirPlace>& places);

/// Puts air valves where air holds a need back, and more where the water that then runs meets other air,
/// until the need is met or no more is found. Those places become the need's `air->held`; what comes with
/// valves at them for good, `air->vented`, may still be too little.
void try_vents(const network::System& system, std::vector<AskResult>& asks);

}  // namespace runnel::verdict
