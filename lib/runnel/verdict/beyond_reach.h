#pragma once
// What no pipe could bring: more water than the springs give, and water higher than it stands anywhere.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// The flows asked at taps, where they add up to more than all springs give. With tanks only taps count that
/// are open at all hours: no tank makes up for those. None if they do not, or if the level of a tank is held.
std::optional<AskedInAll> asked_beyond_springs(const network::System& system,
                                               const std::vector<AskResult>& asks);

/// What all springs give together, and how many of them give anything.
struct SpringsInAll {
  double give_m3s = 0.0;
  std::size_t springs = 0;
};
SpringsInAll springs_in_all(const network::System& system);

/// A tank that is full only above the water of every source.
struct FullTooHigh {
  std::string source;  ///< where the water stands highest
  double water_m = 0.0, full_m = 0.0;
};

/// None if the water of some box or other tank stands as high, or if there is no such tank.
std::optional<FullTooHigh> full_beyond_reach(const network::System& system, const std::string& tank);

/// What lets such a tank fill.
Sentence set_lower(const std::string& tank, const FullTooHigh& high);

}  // namespace runnel::verdict
