#include "runnel/report/fill_end.h"

#include "runnel/units/print.h"

namespace runnel::report {

std::string fill_end_words(const filling::FillHistory& history) {
  const std::string when =
      ", " + units::show({Kind::duration, history.duration_s}, units::UnitSystem::si) + " after the start";
  switch (history.outcome) {
    case filling::FillOutcome::no_answer:
      return "the flows did not settle" + when;
    case filling::FillOutcome::gave_up:
      return "the levels change too often to be followed" + when;
    case filling::FillOutcome::done:
    case filling::FillOutcome::stopped:
      break;
  }
  return history.storages.empty() ? "there is no tank, and no box whose plan is given: nothing fills" : "";
}

}  // namespace runnel::report
