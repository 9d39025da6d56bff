#pragma once
// A model as it stands at a moment of a day that was followed.
#include "runnel/filling/moments_of_day.h"
#include "runnel/network/model.h"

namespace runnel::verdict {

/// A model with its tanks at the levels of a moment, and each float valve as it stood then: between the
/// levels at which it shuts and opens the level alone does not tell. Where a flow is asked of a tank with a
/// float valve, that stands open.
network::Model at_moment(network::Model model, const filling::MomentOfDay& moment);

}  // namespace runnel::verdict
