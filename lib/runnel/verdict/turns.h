#pragma once
// Taps and joints that are drawn at different hours are used by turns: no hour finds all of them drawn in
// full.
#include <string>
#include <vector>

#include "runnel/network/model.h"

namespace runnel::verdict {

/// Hours in which some of what is drawn by the hour is drawn and the rest is not.
struct Turn {
  double from_hour = 0.0;
  std::string hours;               ///< "18 to 6", the first of such hours in the day
  std::vector<std::string> idle;   ///< taps and joints at which nothing is drawn then
  std::vector<std::string> drawn;  ///< those at which something is, be it less than at other hours
};

/// The turns in which most is drawn together: a turn that draws nowhere more than another turn does is left
/// out. Empty where nothing has hours, or some hour finds all taps with hours open and all joints at their
/// most.
std::vector<Turn> turns_by_hours(const network::Model& model);

/// Places at which nothing is due in a turn. The pressure in a joint is asked at all hours.
std::vector<std::string> not_due_in(const network::Model& model, const Turn& turn);

/// The model in one of its turns.
network::Model in_turn(network::Model model, const Turn& turn);

}  // namespace runnel::verdict
