#pragma once
// The worked lines of start-up, tests/data/lines/22_airblock_40pts.json and
// 25_airblock_one_pocket_closed_form.json.
#include <utility>
#include <vector>

#include "runnel/air/start_up.h"
#include "runnel/base/constants.h"
#include "support/worked_line.h"

namespace runnel::test {

inline const WorkedLine worked_22 = worked_line("22_airblock_40pts"),
                        worked_25 = worked_line("25_airblock_one_pocket_closed_form");

inline const std::vector<std::pair<double, double>> line_22 = worked_22.points(),
                                                    line_25 = worked_25.points();
inline const double bore_22_m = worked_22.input("bore");

/// Of both lines: the air's pressure over the weight of their water.
inline const double atmospheric_head_22_m = worked_22.input("p_atm") / (worked_22.input("rho") * gravity_ms2);

inline air::StartConditions conditions_22(std::vector<double> vents_m = {}) {
  return {atmospheric_head_22_m, worked_22.input("source_level"), std::nullopt, std::move(vents_m)};
}

}  // namespace runnel::test
