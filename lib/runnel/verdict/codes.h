#pragma once
// What a code that a finding carries is explained by: what it means, why it matters, what to do, where the
// rule is from. `runnel explain CODE` prints it. All codes there are: report/finding_codes.h.
#include <string_view>
#include <vector>

namespace runnel::verdict {

/// What a filling does with a finding of the steady answer that bears on the ruling.
enum class Filling {
  takes_over,  ///< it bears on the filling as well
  follows,     ///< a filling sees by itself, instant by instant or with its lines empty, whether it is so
};

struct Code {
  std::string_view code;
  std::string_view title;    ///< a few words
  std::string_view meaning;  ///< what was seen
  std::string_view why;      ///< why it matters on the ground
  std::string_view remedy;   ///< what to do
  std::string_view source;   ///< where the rule is from; empty for the language's own rules
  Filling filling = Filling::takes_over;
};

/// All that this room and those below may say, and what the review and the command add, in no order.
std::vector<Code> codes();

/// The parts it is put together from: of each file with rules, and of what is wrong with what was written.
std::vector<Code> air_branch_codes();
std::vector<Code> air_crest_codes();
std::vector<Code> air_flow_codes();
std::vector<Code> air_line_codes();
std::vector<Code> air_codes();
std::vector<Code> answer_codes();
std::vector<Code> box_codes();
std::vector<Code> dry_times_codes();
std::vector<Code> year_parts_codes();
std::vector<Code> low_water_codes();
std::vector<Code> dry_years_codes();
std::vector<Code> falling_springs_codes();
std::vector<Code> velocity_state_codes();
std::vector<Code> fill_codes();
std::vector<Code> flow_codes();
std::vector<Code> friction_codes();
std::vector<Code> joint_codes();
std::vector<Code> margins_codes();
std::vector<Code> mouth_codes();
std::vector<Code> opened_wide_codes();
std::vector<Code> own_pipe_codes();
std::vector<Code> own_water_codes();
std::vector<Code> split_codes();
std::vector<Code> survey_margin_codes();
std::vector<Code> overflow_codes();
std::vector<Code> pressure_codes();
std::vector<Code> reducing_codes();
std::vector<Code> siphon_codes();
std::vector<Code> start_levels_codes();
std::vector<Code> store_codes();
std::vector<Code> drawn_hours_codes();
std::vector<Code> first_days_codes();
std::vector<Code> supply_codes();
std::vector<Code> surge_parting_codes();
std::vector<Code> surge_codes();
std::vector<Code> transition_codes();
std::vector<Code> velocity_codes();
std::vector<Code> trust_codes();
std::vector<Code> text_codes();
std::vector<Code> model_codes();
std::vector<Code> figure_codes();
std::vector<Code> command_codes();
std::vector<Code> review_codes();
std::vector<Code> size_codes();
std::vector<Code> year_corner_codes();
std::vector<Code> staged_float_codes();

}  // namespace runnel::verdict
