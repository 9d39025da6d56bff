#pragma once
// How fast water runs in the lines, held against what is asked of that.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {

/// One bound on one line, where water comes nearest to it or is farthest beyond it.
struct VelocityResult {
  std::string line;
  double station_m = 0.0;  ///< where that begins
  bool at_most = true;     ///< else at least
  double asked_ms = 0.0, got_ms = 0.0;
  double flow_m3s = 0.0, capacity_m3s = 0.0;  ///< of the line: what runs, and the most that it carries
  bool met = false;
  bool reached = false;             ///< of a run: met at some instant
  std::optional<bool> pipe_limits;  ///< whether another bore brought another flow when it was tried
};

/// Every bound on every line in which water runs. Its velocity is that of its flow spread over the whole
/// bore, also where it falls part-full and is faster: so a larger pipe is slower wherever it is laid.
std::vector<VelocityResult> judge_velocities(const network::System& system, const steady::State& state);

/// The rule that a bound falls under: too fast, or too slow.
const Code& velocity_code(const VelocityResult& result);

/// The findings of those that are not met.
std::vector<Finding> velocity_findings(const std::vector<VelocityResult>& results);

/// Whether the finding is one of those, or of a bound that some period of the year misses.
bool is_of_velocity(const Finding& finding);

}  // namespace runnel::verdict
