#pragma once
// Numbers of about 32 digits, held as the unevaluated sum of two doubles. Units are converted in them, so
// that what a person writes becomes the double nearest to the exact value: `1.5 in` and `38.1 mm` are
// the same bore, and a figure written in feet reads back to the same metres. In plain doubles a
// conversion may miss by one unit in the last place, and no number of digits written would repair it.
//
// Source of the building blocks: [dekker1971] (product by fused multiply-add instead of splitting).
#include <cmath>

namespace runnel::units {

struct Wide {
  double high = 0.0;  ///< the nearest double
  double low = 0.0;   ///< what is left, at most half a unit in the last place of `high`
};

/// high + low as a Wide; precondition |high| >= |low|.
inline Wide settled(double high, double low) {
  const double sum = high + low;
  return {sum, low - (sum - high)};
}

inline Wide sum(Wide a, Wide b) {
  const double s = a.high + b.high;
  const double part = s - a.high;
  const double rest = (a.high - (s - part)) + (b.high - part);
  return settled(s, rest + (a.low + b.low));
}

inline Wide product(Wide a, Wide b) {
  const double p = a.high * b.high;
  const double rest = std::fma(a.high, b.high, -p);
  return settled(p, rest + (a.high * b.low + a.low * b.high));
}

inline Wide quotient(Wide a, Wide b) {
  const double q = a.high / b.high;
  const Wide back = product({q, 0.0}, b);
  const Wide rest = sum(a, {-back.high, -back.low});
  return settled(q, (rest.high + rest.low) / b.high);
}

/// value * 10^power, exact to about 1e-31; |power| <= 66.
inline Wide times_power_of_ten(Wide value, int power) {
  // 10^22 is the largest power of ten that a double holds exactly.
  constexpr double exact_powers[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                     1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  for (; power > 0; power -= power > 22 ? 22 : power)
    value = product(value, {exact_powers[power > 22 ? 22 : power], 0.0});
  for (; power < 0; power += power < -22 ? 22 : -power)
    value = quotient(value, {exact_powers[power < -22 ? 22 : -power], 0.0});
  return value;
}

}  // namespace runnel::units
