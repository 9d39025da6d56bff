#pragma once
// Random numbers for systems made by chance: the same seed makes the same system on every machine.
#include <random>

namespace support {

class Dice {
 public:
  explicit Dice(unsigned seed) : engine_(seed) {}
  double between(double low, double high) { return low + (high - low) * unit_(engine_); }
  int count(int low, int high) { return low + static_cast<int>(unit_(engine_) * (high - low + 1)); }
  bool one_in(int n) { return count(1, n) == 1; }

 private:
  std::mt19937 engine_;
  std::uniform_real_distribution<double> unit_{0.0, 1.0};
};

}  // namespace support
