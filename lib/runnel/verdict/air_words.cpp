#include "runnel/verdict/air_words.h"

namespace runnel::verdict {

std::string_view words(air::CrestReason reason) {
  switch (reason) {
    case air::CrestReason::helps_to_block:
      return "air shut in here at start-up helps to stop the water";
    case air::CrestReason::draws_air_in:
      return "the grade line runs below the pipe, so the air valve draws air in";
    case air::CrestReason::air_comes_out:
      return "the grade line runs below the pipe, so air comes out of the water here";
    case air::CrestReason::must_give_way_and_stays:
      return "the line starts only if the air here gives way, and the current does not carry it off";
    case air::CrestReason::must_give_way:
      return "the line starts only if the air here gives way";
    case air::CrestReason::close_to_grade:
      return "the grade line passes close above the pipe here";
    case air::CrestReason::air_valve_lets_out:
      return "an air valve lets the air out here";
    case air::CrestReason::current_leaves_air:
      return "the water starts, but the current leaves the air here and loses head over it";
    case air::CrestReason::some_laws_leave_air:
      return "by some of the published laws the current leaves the air here";
    case air::CrestReason::shut_in:
      return "air is shut in here at start-up";
    case air::CrestReason::carried_off:
      return "by every published law in its range the current carries the air off";
    case air::CrestReason::open_descent:
      return "air can leave down the open descent after it";
    case air::CrestReason::above_source:
      return "it stands above the source, and no water passes";
  }
  return "";
}

std::string_view words(air::StretchReason reason) {
  switch (reason) {
    case air::StretchReason::boils:
      return "the water boils here and the column breaks";
    case air::StretchReason::much_air_comes_out:
      return "so far under the air's pressure dissolved air comes out and gathers until the line stops";
    case air::StretchReason::some_air_comes_out:
      return "under the air's pressure dissolved air comes out slowly, and any leak draws air in";
    case air::StretchReason::part_full_vented:
      return "it runs part-full below an air valve";
    case air::StretchReason::near_grade_vented:
      return "an air valve above lets air out where the grade line is near";
    case air::StretchReason::part_full_unvented:
      return "it runs part-full, and nothing lets the air in and out here";
    case air::StretchReason::near_grade_line:
      return "a small error of the survey, or a little more flow, brings the grade line under the pipe";
    case air::StretchReason::may_run_back:
      return "it may run the other way";
    case air::StretchReason::back_does_not_start:
      return "if it runs the other way, the line may not start";
    case air::StretchReason::back_one_pocket_more:
      return "if it runs the other way, it holds one more pocket of air";
    case air::StretchReason::back_little_changes:
      return "if it runs the other way, nothing much changes";
  }
  return "";
}

std::string_view words(air::StretchRemedy remedy) {
  switch (remedy) {
    case air::StretchRemedy::none:
      return "";
    case air::StretchRemedy::lower_pipe:
      return "Lower the pipe below the grade line here, or let less water through further down.";
    case air::StretchRemedy::air_valve_at_top:
      return "Put an air valve at the top of this stretch.";
    case air::StretchRemedy::deeper_or_wider:
      return "Lay the pipe deeper here, or take a wider pipe above it.";
    case air::StretchRemedy::level_again:
      return "Level this stretch again, or lay the pipe to a string line with an even fall.";
  }
  return "";
}

}  // namespace runnel::verdict
