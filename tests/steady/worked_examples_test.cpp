// Worked examples of textbooks and university courses, recomputed; each says whose it is and whether its
// page was read (FOUND) or is from memory. "Published" is the printed answer, "computed" a recomputation in
// Python by bracketing with the friction factor of an independent general library, given to ten digits.
//
// The books take g as 9.81, 9.806 or 32.2 ft/s2. A loss goes with 1/g and so does the flow's whole balance,
// so heads are put in and taken out in the proportion of g. A constant friction factor is the power law with
// n = 2, m = 5 and C = 1.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/losses/area_change.h"
#include "runnel/steady/newton.h"
#include "runnel/units/quantity.h"

using namespace runnel;

namespace {

constexpr double foot = units::foot_m, cubic_foot = foot * foot * foot;

struct Book {
  double g_ms2 = 9.81, viscosity_m2s = 1e-6;
  losses::FrictionLaw law = {};
  steady::Kernel kernel = {};
  steady::KernelState found = {};

  double ours(double head_m) const { return head_m * g_ms2 / gravity_ms2; }
  int fixed(double head_m) { return node({.fixed = true, .head_m = ours(head_m)}); }
  int free(double inflow_m3s = 0.0) { return node({.inflow_m3s = inflow_m3s}); }
  int node(const steady::KernelNode& n) {
    kernel.nodes.push_back(n);
    return static_cast<int>(kernel.nodes.size()) - 1;
  }
  /// `c` only for the power law.
  void pipe(int a, int b, double length_m, double bore_m, double roughness_m, double loss_k = 0.0,
            double c = 1.0) {
    kernel.add_pipe(a, b, {law, bore_m, roughness_m, c, viscosity_m2s}, length_m, loss_k);
  }
  void solve() {
    found = steady::solve(kernel);
    REQUIRE(found.outcome == steady::Outcome::settled);
  }
  double flow(std::size_t pipe) const { return found.flow_m3s[pipe]; }
  double head(int node) const { return found.head_m[static_cast<std::size_t>(node)] * gravity_ms2 / g_ms2; }
};

/// Constant f: h = k L Q^2 / D^5. In `ours` heads k must be in our g too.
losses::FrictionLaw square(double k) {
  losses::FrictionLaw law;
  law.law = losses::Law::hazen_williams;
  law.k = k;
  law.n = 2.0;
  law.m = 5.0;
  return law;
}

/// Darcy's constant f in our g: 8 f / (pi^2 g).
losses::FrictionLaw constant_factor(double f) { return square(8.0 * f / (pi * pi * gravity_ms2)); }

losses::FrictionLaw hazen(double k, double n, double m) {
  losses::FrictionLaw law;
  law.law = losses::Law::hazen_williams;
  law.k = k;
  law.n = n;
  law.m = m;
  return law;
}

Approx digits(double value, double share = 1e-9) { return Approx(value).epsilon(share).margin(0.0); }

struct WhitePipe {
  double length_m, bore_m, relative;
};
constexpr WhitePipe white_pipes[] = {{100, 0.08, 0.003}, {150, 0.06, 0.002}, {80, 0.04, 0.005}};

}  // namespace

TEST_CASE("E1 three reservoirs") {  // F. M. White, Fluid Mechanics, three-reservoir example
  Book b{.viscosity_m2s = 1.02e-6};
  const int joint = b.free();
  const double levels[] = {20.0, 100.0, 40.0};
  for (std::size_t i = 0; i < 3; ++i) {
    const auto& p = white_pipes[i];
    b.pipe(b.fixed(levels[i]), joint, p.length_m, p.bore_m, p.relative * p.bore_m);
  }
  b.solve();
  CHECK(b.head(joint) == digits(34.5407520250));  // computed; published about 34.53
  CHECK(b.flow(0) * 3600.0 == digits(-52.8481285766));
  CHECK(b.flow(1) * 3600.0 == digits(47.0097408314));
  CHECK(b.flow(2) * 3600.0 == digits(5.8383877452));
  const double published[] = {-52.8, 47.0, 5.8};
  for (std::size_t i = 0; i < 3; ++i)
    CHECK(b.flow(i) * 3600.0 == Approx(published[i]).margin(0.05).epsilon(0));
}

TEST_CASE("E2 three pipes in series") {  // White; inputs from memory
  Book b{.viscosity_m2s = 1.02e-6};
  const double head = 150000.0 / (1000.0 * 9.81) + 5.0;
  int from = b.fixed(head);
  for (const auto& p : white_pipes) {
    const int to = &p == &white_pipes[2] ? b.fixed(0.0) : b.free();
    b.pipe(from, to, p.length_m, p.bore_m, p.relative * p.bore_m);
    from = to;
  }
  b.solve();
  CHECK(b.flow(0) == digits(2.8391524691e-3, 1e-8));            // computed; the head is quoted to six digits
  CHECK(b.flow(0) == Approx(2.84e-3).margin(5e-6).epsilon(0));  // published
  CHECK(b.flow(2) == digits(b.flow(0)));
}

TEST_CASE("E3 three pipes side by side") {  // White; from memory
  Book b{.viscosity_m2s = 1.02e-6};
  const int top = b.fixed(20.3), bottom = b.fixed(0.0);
  for (const auto& p : white_pipes) b.pipe(top, bottom, p.length_m, p.bore_m, p.relative * p.bore_m);
  b.solve();
  const double computed[] = {62.5477147956, 25.9107091459, 11.4079703366};
  const double published[] = {62.5, 25.9, 11.4};
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(b.flow(i) * 3600.0 == digits(computed[i]));
    CHECK(b.flow(i) * 3600.0 == Approx(published[i]).epsilon(1e-3));
  }
}

TEST_CASE("E4 loss of a pumped line") {  // White, Ex. 6.16, from memory; only its loss
  Book b{.g_ms2 = 32.2 * foot, .viscosity_m2s = 1.1e-5 * foot * foot};
  const double bore = foot / 6.0;
  const int top = b.fixed(0.0), bottom = b.free(-0.2 * cubic_foot);
  b.pipe(top, bottom, 400.0 * foot, bore, 0.001 * bore, 12.2);
  b.solve();
  CHECK(-b.head(bottom) / foot == digits(83.44445, 1e-7));  // computed, seven digits
}

TEST_CASE("E5 two cast-iron pipes in series") {  // tutorial of Wolaita Sodo University, FOUND
  Book b{.viscosity_m2s = 1.31e-6};
  const int top = b.fixed(80.0), joint = b.free(), bottom = b.free(-0.5);
  b.pipe(top, joint, 300.0, 0.6, 0.26e-3, 0.5);
  b.pipe(joint, bottom, 300.0, 0.4, 0.26e-3, 0.24 + 1.0);
  b.solve();
  CHECK(b.head(bottom) == digits(80.0 - 13.3633847, 1e-9));      // computed
  CHECK(80.0 - b.head(bottom) == Approx(13.337).epsilon(3e-3));  // published, read off a chart
}

TEST_CASE("E6 siphon") {  // GATE Civil 2019, FOUND: h = f L Q^2 / (12.1 d^5)
  Book b{.g_ms2 = gravity_ms2, .law = square(0.02 / 12.1)};
  b.pipe(b.fixed(5.0), b.fixed(0.0), 5000.0, 0.1, 0.0);
  b.solve();
  CHECK(b.flow(0) == digits(2.459674775e-3));
  CHECK(b.flow(0) == Approx(2.4597e-3).margin(5e-8).epsilon(0));  // published
}

TEST_CASE("E7 siphon with Fanning's factor") {  // exercise, inputs FOUND; 0.005 of Fanning is 0.02 of Darcy
  Book b{.law = constant_factor(0.02)};
  const int summit = b.free();
  b.pipe(b.fixed(20.0), summit, 100.0, 0.2, 0.0);
  b.pipe(summit, b.fixed(0.0), 400.0, 0.2, 0.0);
  b.solve();
  CHECK(b.flow(0) == digits(0.0880094628));
  // Pressure head there: grade less its 23 m and the velocity head of 0.4 m; our grade at a joint leaves that
  // in.
  CHECK(b.head(summit) - 23.0 - 0.4 == digits(-7.40, 1e-8));
}

TEST_CASE("E8 sudden enlargement between two reservoirs") {  // University of Leeds notes, inputs FOUND
  Book b{.law = constant_factor(0.04)};
  const int joint = b.free();
  b.pipe(b.fixed(9.0), joint, 15.0, 0.2, 0.0, 0.5 + losses::area_change_loss(0.2, 0.25));
  b.pipe(joint, b.fixed(0.0), 45.0, 0.25, 0.0, 1.0);
  b.solve();
  CHECK(b.flow(0) == digits(0.1579189462));
  CHECK(b.flow(0) == Approx(0.158).margin(5e-4).epsilon(0));  // published, from memory
}

TEST_CASE("E9 loss of a sudden enlargement") {  // polytechnic e-book, Ex. 5.1, FOUND in part
  const double flow = 1.8 / 60.0, velocity = flow / (pi * 0.01 / 4.0);
  const double loss = losses::expansion_loss(0.1, 0.15) * velocity * velocity / (2.0 * 9.81);
  CHECK(velocity == digits(3.8197186, 1e-8));
  CHECK(loss == digits(0.2295190, 3e-7));
}

TEST_CASE("E10 three reservoirs, f l Q^2 / (3 d^5)") {  // J. F. Douglas, Fluid Mechanics, inputs FOUND
  Book b{.g_ms2 = gravity_ms2, .law = square(0.01 / 3.0)};
  const int joint = b.free();
  b.pipe(b.fixed(60.0), joint, 1500.0, 0.3, 0.0);
  b.pipe(joint, b.fixed(30.0), 800.0, 0.25, 0.0);
  b.pipe(joint, b.fixed(15.0), 400.0, 0.2, 0.0);
  b.solve();
  CHECK(b.head(joint) == digits(34.7766574313));
  const double computed[] = {0.1107183114, 0.0418242059, 0.0688941056};
  for (std::size_t i = 0; i < 3; ++i) CHECK(b.flow(i) == digits(computed[i], 2e-9));
}

TEST_CASE("E11 three reservoirs in feet") {  // Munson and others' type, inputs FOUND
  Book b{.g_ms2 = 32.2 * foot, .law = constant_factor(0.02)};
  const int joint = b.free();
  const double levels[] = {100.0, 20.0, 0.0}, lengths[] = {1000.0, 500.0, 400.0};
  for (std::size_t i = 0; i < 3; ++i) b.pipe(b.fixed(levels[i] * foot), joint, lengths[i] * foot, foot, 0.0);
  b.solve();
  CHECK(b.head(joint) / foot == digits(21.2549914894));
  const double computed[] = {12.5063141699, -2.2328173873, -10.2734967826};
  for (std::size_t i = 0; i < 3; ++i) CHECK(b.flow(i) / cubic_foot == digits(computed[i]));
}

TEST_CASE("E12 three reservoirs, rough pipes") {  // Streeter & Wylie, inputs from memory
  Book b{.g_ms2 = 9.806, .viscosity_m2s = 1.003e-6};
  const int joint = b.free();
  const double levels[] = {30.0, 18.0, 9.0}, lengths[] = {3000.0, 600.0, 1000.0};
  const double bores[] = {1.0, 0.45, 0.6}, relative[] = {0.0002, 0.002, 0.001};
  for (std::size_t i = 0; i < 3; ++i)
    b.pipe(b.fixed(levels[i]), joint, lengths[i], bores[i], relative[i] * bores[i]);
  b.solve();
  CHECK(b.head(joint) == digits(24.8818024465));
  const double computed[] = {1.1977750014, -0.3292361623, -0.8685388391};
  for (std::size_t i = 0; i < 3; ++i) CHECK(b.flow(i) == digits(computed[i]));
}

TEST_CASE("E13 three pipes side by side, constant factor") {  // exercise, inputs FOUND
  Book b{.law = constant_factor(0.018)};
  const int top = b.free(0.5), bottom = b.fixed(0.0);
  for (const double bore : {0.3, 0.25, 0.2}) b.pipe(top, bottom, 200.0, bore, 0.0);
  b.solve();
  CHECK(b.head(top) == digits(7.6749797014));
  const double computed[] = {0.2503974415, 0.1587364897, 0.0908660688};
  for (std::size_t i = 0; i < 3; ++i) CHECK(b.flow(i) == digits(computed[i]));
}

TEST_CASE("E14 three pipes side by side in feet") {  // Streeter, inputs from memory
  Book b{.g_ms2 = 32.2 * foot, .viscosity_m2s = 3e-5 * foot * foot};
  const int top = b.free(12.0 * cubic_foot), bottom = b.fixed(0.0);
  const double lengths[] = {3000.0, 2000.0, 4000.0}, bores[] = {1.0, 8.0 / 12.0, 16.0 / 12.0};
  const double roughness[] = {0.001, 0.0001, 0.0008};
  for (std::size_t i = 0; i < 3; ++i)
    b.pipe(top, bottom, lengths[i] * foot, bores[i] * foot, roughness[i] * foot);
  b.solve();
  CHECK(b.head(top) / foot == digits(20.6854227, 3e-9));
  const double computed[] = {3.5761446749, 1.7109117256, 6.7129435995};
  for (std::size_t i = 0; i < 3; ++i) CHECK(b.flow(i) / cubic_foot == digits(computed[i]));
}

TEST_CASE("E15 two pipes side by side, then one") {  // White problem, inputs FOUND
  Book b{.viscosity_m2s = 1.003e-3 / 998.0};
  const int top = b.fixed(750e3 / (998.0 * 9.81)), joint = b.free();
  b.pipe(top, joint, 250.0, 0.08, 0.12e-3);
  b.pipe(top, joint, 100.0, 0.08, 0.12e-3);
  b.pipe(joint, b.fixed(0.0), 150.0, 0.08, 0.12e-3);
  b.solve();
  CHECK(b.flow(0) == digits(0.0103671635, 5e-9));
  CHECK(b.flow(1) == digits(0.0165560635, 5e-9));
  CHECK(b.flow(2) == digits(0.0269232270, 5e-9));
  CHECK(b.head(top) - b.head(joint) == digits(15.5946872, 5e-9));
}

TEST_CASE("single gravity lines") {  // computed, 10 C, g = 9.80665
  struct Line {
    double head_m, length_m, bore_m, roughness_m, loss_k, flow_m3s;
  };
  constexpr Line lines[] = {
      {30, 1000, 33.2e-3, 1.5e-6, 0, 7.6067510298e-04},  {30, 1000, 33.2e-3, 1.5e-6, 1.5, 7.5982635116e-04},
      {10, 500, 50.8e-3, 1.5e-6, 2.5, 1.8948582179e-03}, {2, 300, 26.6e-3, 1.5e-6, 0, 1.7544895211e-04},
      {0.05, 100, 20.9e-3, 1.5e-6, 0, 1.7578292376e-05},  // laminar
      {5, 200, 40.9e-3, 1.5e-4, 5, 1.0274150327e-03}};
  for (const Line& l : lines) {
    Book b{.g_ms2 = gravity_ms2, .viscosity_m2s = 1.30628832e-6};
    b.pipe(b.fixed(l.head_m), b.fixed(0.0), l.length_m, l.bore_m, l.roughness_m, l.loss_k);
    b.solve();
    CHECK(b.flow(0) == digits(l.flow_m3s));
  }
}

TEST_CASE("lines and nets by Hazen-Williams") {  // computed with 10.667, 1.852, 4.871
  const losses::FrictionLaw law = hazen(10.667, 1.852, 4.871);
  struct Line {
    double head_m, length_m, bore_m, c, flow_m3s;
  };
  constexpr Line lines[] = {{30, 1000, 33.2e-3, 150, 8.1115827540e-04},
                            {10, 500, 50.8e-3, 140, 1.8617143580e-03},
                            {5, 200, 40.9e-3, 120, 1.0178693017e-03}};
  for (const Line& l : lines) {
    Book b{.g_ms2 = gravity_ms2, .law = law};
    b.pipe(b.fixed(l.head_m), b.fixed(0.0), l.length_m, l.bore_m, 0.0, 0.0, l.c);
    b.solve();
    CHECK(b.flow(0) == digits(l.flow_m3s));
  }
  Book three{.g_ms2 = gravity_ms2, .law = law};
  const int joint = three.free();
  three.pipe(three.fixed(100.0), joint, 500.0, 0.050, 0.0, 0.0, 150.0);
  three.pipe(three.fixed(80.0), joint, 300.0, 0.040, 0.0, 0.0, 150.0);
  three.pipe(three.fixed(70.0), joint, 400.0, 0.040, 0.0, 0.0, 150.0);
  three.solve();
  CHECK(three.head(joint) == digits(84.6881254545));
  const double reservoirs[] = {2.4079765279, -0.9311112380, -1.4768652899};
  for (std::size_t i = 0; i < 3; ++i) CHECK(three.flow(i) * 1e3 == digits(reservoirs[i]));
  Book two{.g_ms2 = gravity_ms2, .law = law};
  const int top = two.free(3e-3), bottom = two.fixed(0.0);
  two.pipe(top, bottom, 300.0, 0.040, 0.0, 0.0, 150.0);
  two.pipe(top, bottom, 400.0, 0.050, 0.0, 0.0, 140.0);
  two.solve();
  CHECK(two.head(top) == digits(7.8627716004));
  CHECK(two.flow(0) * 1e3 == digits(1.2310144266));
  CHECK(two.flow(1) * 1e3 == digits(1.7689855734));
}
