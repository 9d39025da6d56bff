#pragma once
// Made-up systems to measure on, the same on every machine. Places lie on a rectangular grid; pipes are a
// random spanning tree of it plus as many further neighbours as the shape asks for. Pipes come in a random
// order, so that nothing is gained by an order that real models do not have. All values are invented.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <utility>
#include <vector>

#include "runnel/steady/kernel.h"

namespace bench {

using runnel::losses::Law;
using runnel::steady::Kernel;

enum class Shape {
  tree,     ///< a box in one corner, 30 % of the ends are tanks
  branchy,  ///< 1.3 pipes a place, a box in one corner, a fixed head in every block of 22 x 22
  looped,   ///< 1.9 pipes a place, the rest likewise
};
inline constexpr const char* shape_names[] = {"tree", "branchy", "looped"};

/// splitmix64. [from memory, public domain]
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
  }
  double real(double low, double high) {
    return low + (high - low) * static_cast<double>(next() >> 11) * 0x1p-53;
  }
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(next() % n); }

 private:
  std::uint64_t state_;
};

using Pairs = std::vector<std::pair<int, int>>;

template <class T>
void shuffle(std::vector<T>& all, Dice& dice) {
  for (std::size_t i = all.size(); i > 1; --i) std::swap(all[i - 1], all[dice.below(i)]);
}

inline Pairs grid_pairs(int rows, int columns, std::size_t wanted, Dice& dice) {
  Pairs all, chosen, spare;
  for (int r = 0; r < rows; ++r)
    for (int c = 0; c < columns; ++c) {
      if (c + 1 < columns) all.emplace_back(r * columns + c, r * columns + c + 1);
      if (r + 1 < rows) all.emplace_back(r * columns + c, (r + 1) * columns + c);
    }
  shuffle(all, dice);
  std::vector<int> leader(static_cast<std::size_t>(rows * columns));
  std::iota(leader.begin(), leader.end(), 0);
  const auto find = [&](int v) {
    auto up = [&](int i) -> int& { return leader[static_cast<std::size_t>(i)]; };
    while (up(v) != v) v = up(v) = up(up(v));
    return v;
  };
  for (const auto& pair : all) {
    const int a = find(pair.first), b = find(pair.second);
    (a == b ? spare : chosen).push_back(pair);
    leader[static_cast<std::size_t>(a)] = b;
  }
  for (std::size_t k = 0; k < spare.size() && chosen.size() < wanted; ++k) chosen.push_back(spare[k]);
  shuffle(chosen, dice);
  return chosen;
}

/// rows x columns places. Lengths 20-200 m, bores 25-200 mm, C 100-150, roughness 0.0015-0.15 mm.
inline Kernel network(Shape shape, int rows, int columns, Law law) {
  Dice dice(20250101);
  const int n = rows * columns;
  const double per_place = shape == Shape::tree ? 0.0 : shape == Shape::branchy ? 1.3 : 1.9;
  const Pairs pairs = grid_pairs(rows, columns, static_cast<std::size_t>(per_place * n), dice);
  Kernel kernel;
  kernel.nodes.resize(static_cast<std::size_t>(n));
  std::vector<int> degree(static_cast<std::size_t>(n), 0);
  for (const auto& [a, b] : pairs)
    ++degree[static_cast<std::size_t>(a)], ++degree[static_cast<std::size_t>(b)];
  for (int v = 0; v < n; ++v) {
    auto& node = kernel.nodes[static_cast<std::size_t>(v)];
    const int r = v / columns, c = v % columns;
    const double terrain_m = 60.0 + 10.0 * std::sin(0.02 * r) + 10.0 * std::cos(0.03 * c);
    const bool tank = shape == Shape::tree
                          ? degree[static_cast<std::size_t>(v)] == 1 && dice.real(0, 1) < 0.3
                          : r % 22 == std::min(11, rows / 2) && c % 22 == std::min(11, columns / 2);
    if (v == 0)
      node = {.fixed = true, .head_m = terrain_m + (shape == Shape::tree ? 30.0 : 10.0)};
    else if (tank)
      node = {.fixed = true, .head_m = terrain_m + dice.real(-5.0, 5.0)};
    else
      node.inflow_m3s = -dice.real(0.0, 1e-5);
  }
  runnel::losses::FrictionLaw friction;
  friction.law = law;
  for (const auto& [a, b] : pairs)
    kernel.add_pipe(
        a, b, {friction, dice.real(0.025, 0.2), dice.real(1.5e-6, 1.5e-4), dice.real(100, 150), 1.31e-6},
        dice.real(20, 200), 0.0);
  return kernel;
}

}  // namespace bench
