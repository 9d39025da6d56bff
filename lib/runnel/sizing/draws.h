#pragma once
// Random numbers that depend on what they are drawn for, not on what was drawn before [steele2014]: sample i
// of a thing is the same whoever draws it, and whatever else is drawn.
#include <cmath>
#include <cstdint>

#include "runnel/base/constants.h"
#include "runnel/sizing/chance.h"

namespace runnel::sizing {

class Draws {
 public:
  Draws(std::uint64_t seed, std::uint64_t sample, const Unknown& unknown)
      : state_(mixed(seed ^ mixed(sample ^ mixed(static_cast<std::uint64_t>(unknown.kind) * 0x10001u +
                                                 unknown.index)))) {}

  /// Uniform between 0 and 1, both excluded.
  double even() {
    state_ += 0x9e3779b97f4a7c15u;
    return (static_cast<double>(mixed(state_) >> 11) + 0.5) * 0x1.0p-53;
  }
  /// Normal, with mean 0 and standard deviation 1 (Box and Muller).
  double normal() {
    const double radius = std::sqrt(-2.0 * std::log(even()));
    return radius * std::cos(2.0 * pi * even());
  }
  /// Student's t.
  double student(int degrees) {
    double squares = 0.0;
    for (int i = 0; i < degrees; ++i) {
      const double one = normal();
      squares += one * one;
    }
    return normal() / std::sqrt(squares / degrees);
  }

 private:
  static std::uint64_t mixed(std::uint64_t z) {
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
  }
  std::uint64_t state_;
};

}  // namespace runnel::sizing
