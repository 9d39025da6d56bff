#pragma once
// What is drawn while tanks fill for the first time.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/typical_day.h"
#include "runnel/network/system.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// Where what is drawn comes day after day, but not from the levels as drawn before the tanks have filled:
/// adds the condition. Nothing is due at places that are cut off.
void judge_first_days(const network::System& drawn, const filling::TypicalDay& day,
                      const std::vector<std::string>& cut_off, FlowVerdict& verdict);

/// Something that is missing on some day from tanks that were last full at some hour.
struct LateAtTimes {
  std::string place, tank;  ///< the tank whose float valve opens too late
  Sentence words;  ///< "1 m3 of what is drawn at tap is missing when tank was last full at 3 o'clock"
};

/// The first that is found where float valves wait before they open; none if nothing is missing, or if the
/// days could not be followed. Of the needs those count that are met.
std::optional<LateAtTimes> late_at_times(const network::System& lasting, const std::vector<AskResult>& asks);

}  // namespace runnel::verdict
