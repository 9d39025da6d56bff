#pragma once
// Yields of a spring that were written down over the years.
#include <string>
#include <vector>

#include "runnel/base/mark.h"
#include "runnel/units/quantity.h"

namespace runnel::network {

struct LoggedYield {
  int year = 0, month = 1, day = 1;  ///< a calendar date
  Flow yield;
  Mark mark;
};

struct SpringLog {
  std::string box;
  std::vector<LoggedYield> entries;
  Mark mark;
};

}  // namespace runnel::network
