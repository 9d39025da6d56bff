#include "runnel/report/words.h"

#include "runnel/losses/law_table.h"
#include "runnel/network/place_state.h"

namespace runnel::report {

std::string_view word(network::PlaceKind kind) { return network::kind_word(kind); }

std::string_view word(steady::ReachState state) {
  switch (state) {
    case steady::ReachState::full:
      return "full";
    case steady::ReachState::part_full:
      return "part-full";
    case steady::ReachState::mixed:
      return "mixed";
    case steady::ReachState::dry:
      return "dry";
    case steady::ReachState::still:
      return "still";
  }
  return "";
}

std::string_view word(steady::LineCondition condition) {
  switch (condition) {
    case steady::LineCondition::full:
      return "full";
    case steady::LineCondition::mixed:
      return "mixed";
    case steady::LineCondition::part_full:
      return "part-full";
    case steady::LineCondition::dry:
      return "dry";
    case steady::LineCondition::still:
      return "still";
    case steady::LineCondition::shut:
      return "shut";
    case steady::LineCondition::blocked:
      return "blocked";
  }
  return "";
}

std::string_view word(steady::Outcome outcome) {
  switch (outcome) {
    case steady::Outcome::settled:
      return "settled";
    case steady::Outcome::iteration_limit:
      return "iteration-limit";
    case steady::Outcome::not_finite:
      return "not-finite";
  }
  return "";
}

std::string_view word(Severity severity) {
  switch (severity) {
    case Severity::note:
      return "note";
    case Severity::warning:
      return "warning";
    case Severity::error:
      return "error";
  }
  return "";
}

std::string_view word(losses::Law law) { return losses::law_row(law).word; }

std::string_view word(verdict::Ruling ruling) {
  switch (ruling) {
    case verdict::Ruling::holds:
      return "holds";
    case verdict::Ruling::only_if:
      return "only if";
    case verdict::Ruling::cannot_be_said:
      return "cannot be said";
    case verdict::Ruling::fails:
      return "fails";
    case verdict::Ruling::no_answer:
      return "no answer";
    case verdict::Ruling::unproved:
      return "not proved";
  }
  return "";
}

std::string_view word(verdict::Bound bound) {
  switch (bound) {
    case verdict::Bound::shut_tap:
      return "shut tap";
    case verdict::Bound::opening:
      return "opening";
    case verdict::Bound::open_tanks:
      return "open tanks";
    case verdict::Bound::other_taps:
      return "other taps";
    case verdict::Bound::shut_valve:
      return "shut valve";
    case verdict::Bound::held_valve:
      return "held by a valve";
    case verdict::Bound::spring:
      return "spring";
    case verdict::Bound::pipe:
      return "pipe";
    case verdict::Bound::high_point:
      return "high point";
    case verdict::Bound::mouth:
      return "mouth";
    case verdict::Bound::free_end:
      return "free end";
    case verdict::Bound::float_valve:
      return "float valve";
    case verdict::Bound::tank_level:
      return "tank level";
    case verdict::Bound::draws:
      return "draws";
    case verdict::Bound::lower_lip:
      return "lower lip";
  }
  return "";
}

std::string_view version() { return RUNNEL_VERSION; }

}  // namespace runnel::report
