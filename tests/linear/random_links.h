#pragma once
// Random nets for the linear room: seeded, and the same on every machine.
#include <cmath>
#include <cstdint>
#include <random>
#include <utility>
#include <vector>

namespace runnel::test {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  double real(double low, double high) { return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53; }
  int below(int n) { return static_cast<int>(engine_() % static_cast<std::uint64_t>(n)); }
  bool chance(double p) { return real(0.0, 1.0) < p; }

 private:
  std::mt19937_64 engine_;
};

/// A random tree on n places and `loops` further pairs, some of them pairs that are there already.
inline std::vector<std::pair<int, int>> random_pairs(Dice& dice, int n, int loops) {
  std::vector<std::pair<int, int>> pairs;
  for (int v = 1; v < n; ++v) pairs.emplace_back(dice.chance(0.5) ? v - 1 : dice.below(v), v);
  for (int k = 0; n > 1 && k < loops; ++k) {
    const int a = dice.below(n), b = dice.below(n);
    if (a == b) continue;
    pairs.emplace_back(a, b);
    if (dice.chance(0.2)) pairs.emplace_back(b, a);
  }
  return pairs;
}

/// Like a street plan: every place joined to the next and to the one `width` further on.
inline std::vector<std::pair<int, int>> grid_pairs(int width, int height) {
  std::vector<std::pair<int, int>> pairs;
  for (int v = 0; v < width * height; ++v) {
    if ((v + 1) % width != 0) pairs.emplace_back(v, v + 1);
    if (v + width < width * height) pairs.emplace_back(v, v + width);
  }
  return pairs;
}

}  // namespace runnel::test
