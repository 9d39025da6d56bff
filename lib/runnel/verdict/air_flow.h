#pragma once
// What comes with the start-up air still in the lines, as a reader sees it: at a place, for a need.
#include <optional>
#include <string>
#include <vector>

#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// Flow at an outlet or tank [m3/s] over the states that a line with air in it passes through.
struct AirFlow {
  double at_first_m3s = 0.0, least_m3s = 0.0, most_m3s = 0.0;  ///< least and most of the ends
  double without_m3s = 0.0;
  std::vector<AirPlace> held;  ///< what takes head in the state of the least
};

/// Whether ways end at a place and trapped air or a high point stops them all: then no state with air in it
/// may be promised.
bool all_ways_blocked(const AirAnswer& air, const std::string& place);

/// What comes to a place in a state [m3/s]; to a tank what its lines bring.
double arriving_m3s(const network::System& system, const steady::State& state, const std::string& place);

/// None where no air makes a difference, or the way is blocked and there is no such state.
std::optional<AirFlow> air_flow_at(const network::System& system, const steady::State& without_air,
                                   const AirAnswer& air, const std::string& place);

/// Judges the needs again, each in the end state in which it gets least.
void judge_with_air(const network::System& system, const AirAnswer& air, std::vector<AskResult>& asks);

/// "as long as the air behind the high point at 300 m of main stays".
void say_held(const std::vector<AirPlace>& held, Sentence& s);

/// Findings on needs and places that get less than they would without air, and on a proof that failed.
void air_held_flow(const network::System& system, const steady::State& state, const AirAnswer& air,
                   const std::vector<AskResult>& asks, std::vector<Finding>& out);

}  // namespace runnel::verdict
