#pragma once
// Taps that are drawn at different hours are used by turns: no hour finds all of them open.
#include <string>
#include <vector>

#include "runnel/network/model.h"

namespace runnel::verdict {

/// Hours in which some of the taps with hours are drawn and the others are not.
struct Turn {
  std::string hours;               ///< "18 to 6", the first of such hours in the day
  std::vector<std::string> shut;   ///< taps that are not drawn then
  std::vector<std::string> drawn;  ///< taps that are
};

/// The turns in which most taps are drawn together: a turn whose taps are all drawn in another turn as well
/// is left out. Empty where some hour finds all taps with hours drawn, or where fewer than two have hours.
std::vector<Turn> turns_by_hours(const network::Model& model);

/// The model in one of its turns.
network::Model in_turn(network::Model model, const Turn& turn);

}  // namespace runnel::verdict
