#pragma once
// What each dimension takes, in words and with examples to copy.
#include <string_view>

#include "runnel/units/parse.h"
#include "runnel/units/unit_names.h"

namespace runnel::units {

struct Expected {
  std::string_view what;      ///< "a length"
  std::string_view examples;  ///< "`200 ft`, `1-1/2 in` or `60 m`"
  std::string_view us, si;    ///< the units to suggest after a bare number; empty where none is needed
};

const Expected& expected(Dimension wanted);

/// True if a unit of this measure is accepted for `wanted`.
bool accepts(Dimension wanted, Measure measure);

/// True if a number without a unit is accepted there.
bool accepts_bare(Dimension wanted);

}  // namespace runnel::units
