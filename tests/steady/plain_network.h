#pragma once
// A network in the plainest words, for tests: what the second solver reads, and what our kernel is built
// from. Random ones are seeded and the same on every machine (no distribution of the standard library).
#include <cmath>
#include <cstdint>
#include <vector>

#include "runnel/proof/check_law.h"
#include "runnel/steady/kernel.h"

namespace plain {

using runnel::proof::PlainPipe;
using Wide = runnel::proof::LongReal;

constexpr double viscosity_m2s = 1.31e-6;  // water at about 10 C

struct Node {
  bool fixed = false;
  double head_m = 0.0;      ///< fixed ones
  double inflow_m3s = 0.0;  ///< below zero: a draw that is always met
};

struct Pipe {
  int a = 0, b = 0;
  double length_m = 0.0, bore_m = 0.0, roughness_m = 0.0, hazen_c = 0.0, loss_k = 0.0;
  bool check_valve = false;  ///< lets water from a to b only
};

struct Opening {
  int node = 0;
  double elevation_m = 0.0, bore_m = 0.0, loss_k = 0.0;
};

struct Network {
  runnel::losses::FrictionLaw law;
  std::vector<Node> nodes;
  std::vector<Pipe> pipes;
  std::vector<Opening> openings;
};

/// splitmix64: every seed gives a good start. [own choice, public domain algorithm; from memory]
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed * 0x9E3779B97F4A7C15ULL + 1) {}
  double real(double low, double high) {
    return low + (high - low) * static_cast<double>(next() >> 11) * 0x1p-53;
  }
  int whole(int low, int high) {
    return low + static_cast<int>(next() % static_cast<std::uint64_t>(high - low + 1));
  }
  bool chance(double p) { return real(0.0, 1.0) < p; }

 private:
  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
  }
  std::uint64_t state_;
};

inline Pipe random_pipe(Dice& dice, int a, int b) {
  Pipe p;
  p.a = a;
  p.b = b;
  if (dice.chance(0.5)) std::swap(p.a, p.b);
  p.length_m = dice.real(5.0, 800.0);
  p.bore_m = dice.real(0.015, 0.12);
  p.roughness_m = dice.chance(0.5) ? 1.5e-6 : dice.real(0.0, 3e-4);
  p.hazen_c = dice.real(80.0, 150.0);
  p.loss_k = dice.chance(0.4) ? dice.real(0.0, 15.0) : 0.0;
  return p;
}

/// A tree or a looped net of `least` to `most` places, one to three of them with a fixed head. Some of the
/// pipes that close loops have check valves, so no place hangs on a valve alone and every head is defined.
inline Network random_network(std::uint64_t seed, int least = 3, int most = 30) {
  Dice dice(seed);
  Network net;
  if (dice.chance(0.5)) net.law.law = runnel::losses::Law::hazen_williams;
  const int n = dice.whole(least, most);
  const bool tree = dice.chance(0.4);
  net.nodes.resize(static_cast<std::size_t>(n));
  net.nodes[0] = {true, dice.real(60.0, 100.0), 0.0};
  for (int v = 1; v < n; ++v)
    net.pipes.push_back(random_pipe(dice, dice.chance(0.5) ? v - 1 : dice.whole(0, v - 1), v));
  for (int k = tree ? 0 : dice.whole(1, n); k > 0; --k) {
    const int a = dice.whole(0, n - 1), b = dice.whole(0, n - 1);
    if (a == b) continue;
    net.pipes.push_back(random_pipe(dice, a, b));
    net.pipes.back().check_valve = dice.chance(0.4);
  }
  for (int v = 1; v < n; ++v) {
    Node& node = net.nodes[static_cast<std::size_t>(v)];
    const double kind = dice.real(0.0, 1.0);
    if (kind < 0.08)
      node = {true, dice.real(0.0, 100.0), 0.0};
    else if (kind < 0.2)
      node.inflow_m3s = dice.real(-5e-5, 2e-4);
    else if (kind < 0.55)
      net.openings.push_back({v, dice.real(0.0, 90.0), dice.real(0.004, 0.02), dice.real(1.0, 6.0)});
  }
  return net;
}

inline runnel::losses::PipeFriction friction(const Network& net, const Pipe& p) {
  return {net.law, p.bore_m, p.roughness_m, p.hazen_c, viscosity_m2s};
}

/// Ours: links are the pipes and then the openings, in order.
inline runnel::steady::Kernel kernel(const Network& net) {
  runnel::steady::Kernel k;
  for (const Node& node : net.nodes)
    k.nodes.push_back({.fixed = node.fixed, .head_m = node.head_m, .inflow_m3s = node.inflow_m3s});
  for (const Pipe& p : net.pipes) {
    const int link = k.add_pipe(p.a, p.b, friction(net, p), p.length_m, p.loss_k);
    if (p.check_valve) k.links[static_cast<std::size_t>(link)].backwards = 0;
  }
  for (const Opening& o : net.openings)
    k.add_opening(o.node, o.elevation_m, o.bore_m, o.loss_k, viscosity_m2s);
  return k;
}

inline PlainPipe bore_of(double bore_m, double roughness_m = 0.0, double hazen_c = 0.0) {
  return {bore_m, roughness_m, hazen_c};
}

/// Loss of a pipe with its sign, by the plain laws.
inline Wide loss(const Network& net, const Pipe& p, Wide q) {
  const PlainPipe pipe = bore_of(p.bore_m, p.roughness_m, p.hazen_c);
  const Wide size = q < 0 ? -q : q;
  const Wide h = p.length_m * plain_friction(net.law, pipe, viscosity_m2s, size) +
                 p.loss_k * pipe.velocity_head_s2m5() * size * size;
  return q < 0 ? -h : h;
}

/// Loss of an opening: the square, linear below Re 0.1 as the kernel says.
inline Wide loss(const Opening& o, Wide q) {
  const Wide small = 0.1L * Wide(viscosity_m2s) * 0.785398163397448309616L * o.bore_m;
  return o.loss_k * bore_of(o.bore_m).velocity_head_s2m5() * q * std::sqrt(q * q + small * small);
}

/// Derivative by central differences in long double: good to about 1e-11.
template <class Law>
Wide slope(const Law& law, Wide q) {
  const Wide step = std::max(std::fabs(q) * 1e-5L, 1e-16L);
  return (law(q + step) - law(q - step)) / (2 * step);
}

}  // namespace plain
