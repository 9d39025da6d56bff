#include "runnel/verdict/codes.h"

#include "runnel/verdict/rising_tanks.h"

namespace runnel::verdict {

std::vector<Code> codes() {
  std::vector<Code> all;
  for (auto part : {air_branch_codes,
                    air_crest_codes,
                    air_flow_codes,
                    air_line_codes,
                    air_codes,
                    answer_codes,
                    box_codes,
                    drawn_hours_codes,
                    dry_times_codes,
                    fill_codes,
                    first_days_codes,
                    flow_codes,
                    friction_codes,
                    joint_codes,
                    margins_codes,
                    mouth_codes,
                    own_pipe_codes,
                    own_water_codes,
                    split_codes,
                    survey_margin_codes,
                    overflow_codes,
                    pressure_codes,
                    reducing_codes,
                    siphon_codes,
                    start_levels_codes,
                    store_codes,
                    supply_codes,
                    surge_parting_codes,
                    surge_codes,
                    transition_codes,
                    trust_codes,
                    velocity_codes,
                    rising_tank_codes,
                    low_water_codes,
                    dry_years_codes,
                    velocity_state_codes,
                    text_codes,
                    model_codes,
                    figure_codes,
                    command_codes,
                    review_codes,
                    size_codes,
                    opened_wide_codes,
                    year_corner_codes,
                    year_parts_codes,
                    staged_float_codes,
                    falling_springs_codes}) {
    const std::vector<Code> some = part();
    all.insert(all.end(), some.begin(), some.end());
  }
  return all;
}

}  // namespace runnel::verdict
