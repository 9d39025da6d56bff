#pragma once
// What is drawn while tanks fill for the first time.
#include <string>
#include <vector>

#include "runnel/filling/typical_day.h"
#include "runnel/network/system.h"

namespace runnel::verdict {

struct FlowVerdict;

/// Where what is drawn comes day after day, but not from the levels as drawn before the tanks have filled:
/// adds the condition. Nothing is due at places that are cut off.
void judge_first_days(const network::System& drawn, const filling::TypicalDay& day,
                      const std::vector<std::string>& cut_off, FlowVerdict& verdict);

}  // namespace runnel::verdict
