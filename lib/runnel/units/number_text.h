#pragma once
// Reading the number in front of a unit: `200`, `1.9`, `3e-4`, `1/2`, `1-1/2`, `1 1/2`.
#include <string>
#include <string_view>

#include "runnel/units/wide.h"

namespace runnel::units {

struct NumberText {
  bool negative = false;
  Wide value;            ///< without its sign, to about 31 digits
  double plain = 0.0;    ///< without its sign, nearest double
  bool whole = false;    ///< written with digits only
  bool none = false;     ///< no number begins here at all
  int end = 0;           ///< where reading stopped
  std::string error;     ///< empty if a number was read
  std::string hint;      ///< how to write it instead; may be empty
  int from = 0, to = 0;  ///< where the trouble is

  double signed_plain() const { return negative ? -plain : plain; }
};

/// A decimal as a Wide: digits * 10^power; |power| <= 40.
Wide decimal(unsigned long long digits, int power);

/// Reads the number that starts at `at`. A dash after whole digits belongs to a mixed number, never to a
/// sign, so `-1-1/2` is minus one and a half. Ranges, sums, commas and leading zeros are errors.
NumberText read_number(std::string_view text, int at);

}  // namespace runnel::units
