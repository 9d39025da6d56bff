#pragma once
// What the independent checker records while it goes through an answer: the worst error of each kind, and how
// many things it checked.
#include <cmath>
#include <limits>

#include "runnel/proof/check_law.h"

namespace runnel::proof {

/// The error of something that is wrong beyond any figure.
inline constexpr LongReal endless = std::numeric_limits<LongReal>::infinity();

struct Tally {
  static constexpr LongReal nothing_m = 1e-8L;  ///< heads nearer to each other than this count as equal

  LongReal water_m3s = 0, energy_m = 0, breach_m = 0;
  int balances = 0, lines = 0, reaches = 0, part_full = 0, rules = 0;

  /// Water that comes from nowhere, or goes where none can.
  void water(LongReal flow_m3s) { take(water_m3s, std::fabs(flow_m3s)); }
  /// Two energies that must be equal.
  void energy(LongReal difference_m) { take(energy_m, std::fabs(difference_m)); }
  /// Something that must not be above zero.
  void not_above(LongReal excess_m) {
    ++rules;
    take(breach_m, excess_m > 0.0L || excess_m != excess_m ? excess_m : 0.0L);
  }
  /// Neither may be below zero and one must be zero: the smaller of the two is zero.
  void one_is_zero(LongReal a_m, LongReal b_m) {
    ++rules;
    take(breach_m, a_m != a_m || b_m != b_m ? a_m + b_m : std::fabs(std::fmin(a_m, b_m)));
  }

 private:
  /// Not a number counts as infinitely wrong.
  static void take(LongReal& worst, LongReal value) {
    if (value != value)
      worst = std::numeric_limits<LongReal>::infinity();
    else if (value > worst)
      worst = value;
  }
};

}  // namespace runnel::proof
