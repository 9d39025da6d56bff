#pragma once
// The words for kinds and states, the same in text and in JSON.
#include <string>
#include <string_view>

#include "runnel/base/finding.h"
#include "runnel/network/place.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/reasons.h"
#include "runnel/verdict/ruling.h"

namespace runnel::report {

std::string_view word(network::PlaceKind kind);
std::string_view word(steady::ReachState state);
std::string_view word(steady::LineCondition condition);
std::string_view word(steady::Outcome outcome);
std::string_view word(Severity severity);
std::string_view word(losses::Law law);
std::string_view word(verdict::Ruling ruling);
std::string_view word(verdict::Bound bound);

/// This library's version, as its build says it.
std::string_view version();

}  // namespace runnel::report
