#pragma once
// Published daily water needs, for draws given by head of stock or by person.
#include <string>
#include <vector>

#include "runnel/units/quantity.h"

namespace runnel::network {

struct DailyNeed {
  std::string who;        ///< as written in a model: `for: beef cattle`
  Volume a_day;           ///< per head; where a range is published, its upper end
  std::string published;  ///< the range as published
  std::string source;
};

const std::vector<DailyNeed>& daily_needs();

/// One of them, or nullptr.
const DailyNeed* daily_need(const std::string& who);

}  // namespace runnel::network
