#pragma once
// How far the figure of a need may move: at the bad and at the good corner of what nobody knows exactly.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/filling/typical_day.h"
#include "runnel/network/corner.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

/// One of the things nobody knows exactly, and the condition of an answer that this one alone turns.
struct CornerCause {
  bool network::Unknowns::*which;
  const char* condition;  ///< "if ...": what must not come out badly
};
const std::vector<CornerCause>& corner_causes();
/// The condition where only several of them together turn it: at most one, each of which was tried alone.
const char* corner_together();
/// What to do about the one thing that turns a need, or about all of them together.
const char* what_to_do(const std::string& condition);
/// Of all that nobody knows exactly, this one alone.
network::Unknowns unknown_alone(bool network::Unknowns::*which);

/// Adds one condition to others: "if ... and if ...".
inline void also_only(const char* condition, std::string& all) {
  if (!all.empty()) all += " and ";
  all += condition;
}

/// The condition of each unknown that turns something alone, as `turns(unknown_alone(...))` says, and the one
/// of several together where none does, or where the rest together turn it as well.
template <class Turns>
std::string turned_alone_by(const network::System& system, const Turns& turns) {
  std::string all;
  network::Unknowns rest;
  for (const CornerCause& cause : corner_causes()) {
    if (!network::has_unknown(system.model(), cause.which) || !turns(unknown_alone(cause.which))) continue;
    also_only(cause.condition, all);
    rest.*(cause.which) = false;
  }
  if (all.empty() || turns(rest)) also_only(corner_together(), all);
  return all;
}

/// "if ... and if ..." of several needs: each condition once, and none that was said.
std::string conditions_once(const std::vector<std::string>& conditions, const std::string& said = {});

struct AskResult;
struct FlowVerdict;

/// The needs on the state that lasts, with the air that start-up leaves if wanted; none if no state settled.
std::optional<std::vector<AskResult>> needs_on(const network::System& system, bool with_air);
/// The same where the system is solved already. `day`: held to the lowest levels of that day as well.
std::optional<std::vector<AskResult>> needs_on(const network::System& system, const steady::State& state,
                                               bool with_air, const filling::TypicalDay* day = nullptr);
/// Whether air makes a difference to one of these needs.
bool air_counts(const std::vector<AskResult>& asks);

/// Sets `range` of every need of flow or pressure that is judged, by a solve at either corner
/// (network/corner.h), on the state that lasts there. A need that is met as written and missed at the bad
/// corner gives a finding that names what decides: the one unknown that turns it alone, or all together.
/// Needs must have been judged on this system. At either corner they are held to the lowest levels of `day`,
/// which was followed on the system as it is.
void weigh_corners(const network::System& system, const filling::TypicalDay& day,
                   std::vector<AskResult>& asks, std::vector<Finding>& out);

/// Where nothing is asked: holds what arrives at taps and tanks against the bad corner. Adds a condition
/// where no water would come there.
void weigh_arrivals(const network::System& system, const steady::State& state, FlowVerdict& verdict);

}  // namespace runnel::verdict
