// A constant friction factor: the closed form, and the order of the error.
#include <catch2/catch.hpp>
#include <cmath>

#include "filling/systems.h"
#include "runnel/filling/fill.h"
#include "support/rooms.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// Hazen-Williams with n = 2 is h = r Q^2, so Q = sqrt((H - h) / r); no other losses.
Model quadratic() {
  Model s = with_water();
  s.friction.law = losses::Law::hazen_williams;
  s.friction.n = 2.0;
  s.boxes.push_back(spring("spring", 0.05, 29.0, 30.0));
  // Filled from 20 m on: so far under water, the pipe's end loses nothing and its pressure stays above the
  // air's.
  Tank tank = round_tank("tank", 19.5, 5.5, 2.0);
  tank.level = m(20.0);
  tank.inlet = m(19.5);
  s.tanks.push_back(tank);
  s.pipelines.push_back(line("main", "spring", "tank", 500.0, 29.0, 19.5, 0.05, 0.0, 0.0));
  s.pipelines[0].pipes[0].pipe.hazen_c = 140.0;
  return s;
}

/// t = 2 A / k (sqrt(H - h0) - sqrt(H - h1)), k = 1 / sqrt(r), A = pi m2: from
/// A dh/dt = k sqrt(H - h), integrated.
double exact_s() {
  const double r = 10.67 * 500.0 / (140.0 * 140.0 * std::pow(0.05, 4.8704));
  return 2.0 * 3.14159265358979323846 * std::sqrt(r) * (std::sqrt(10.0) - std::sqrt(5.0));
}

double error_at(double tolerance) {
  return std::abs(*fill(quadratic(), {.until_full = true, .tolerance = tolerance}).storages[0].full_after_s -
                  exact_s());
}

}  // namespace

TEST_CASE("a constant friction factor fills by the closed form") {
  CHECK(error_at(1e-10) < 1e-8 * exact_s());  // asked of every closed form
}

TEST_CASE("tightening the tolerance brings the answer nearer as the order says") {
  // With n = 2 the volume is a parabola in time, which the method hits exactly: another exponent, and a tank
  // that nearly reaches the source.
  Model s = quadratic();
  s.friction.n = 1.4;
  s.tanks[0].lip = m(29.7);
  auto full_s = [&](double tolerance) {
    return *fill(s, {.until_full = true, .tolerance = tolerance}).storages[0].full_after_s;
  };
  const double finest = full_s(1e-12);
  // Estimate of order 4 in the step, method of order 5: the error goes with tolerance^(5/4), so a
  // thousandfold tightening gains more than a thousandfold; a third of that is asked, as the step to the
  // event is cut short.
  const double coarse = std::abs(full_s(1e-4) - finest), fine = std::abs(full_s(1e-7) - finest);
  CHECK(coarse < 1e-3 * finest);
  CHECK(coarse > 1e-10 * finest);  // else the comparison is of rounding
  CHECK(fine < coarse / 300.0);
}

TEST_CASE("a lying tank takes its whole volume at a constant inflow") {
  Model s = with_water();
  s.boxes.push_back(spring("spring", 1e-4, 29.0, 30.0));
  Tank tank = round_tank("tank", 20.0, 1.6, 1.0);
  tank.shape = LyingCylinder{m(1.6), m(4.0)};
  tank.lip = tank.inlet = m(21.2);
  s.tanks.push_back(tank);
  s.pipelines.push_back(line("main", "spring", "tank", 200.0, 29.0, 21.2, 0.0352));
  // V = L [R^2 acos((R-h)/R) - (R-h) sqrt(2Rh - h^2)] at h = 1.2, the segment of a circle
  const double v = 4.0 * (0.64 * std::acos(-0.5) + 0.4 * std::sqrt(1.6 * 1.2 - 1.44));
  CHECK(*fill(s, {.until_full = true}).storages[0].full_after_s ==
        Approx(v / 1e-4).epsilon(1e-9));  // a constant inflow is integrated to rounding
}
