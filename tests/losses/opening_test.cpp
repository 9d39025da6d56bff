#include "runnel/losses/opening.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"

using namespace runnel;
using namespace runnel::losses;

namespace {

constexpr double foot_m = 0.3048;
constexpr double cfs_m3s = foot_m * foot_m * foot_m;

template <class Flow>
double difference(Flow&& flow, double head, double step) {
  return (flow(head + step).flow_m3s - flow(head - step).flow_m3s) / (2 * step);
}

/// The strips of a hole added up one by one, written apart from the library: midpoint rule in the angle,
/// fine.
double strips(double depth, double bore, double cd) {
  const double wetted = std::fmin(depth, bore);
  const int n = 200000;
  double sum = 0.0;
  for (int i = 0; i < n; ++i) {
    const double t = (i + 0.5) / n * pi;  // y = wetted (1 - cos t)/2 crowds strips at both ends
    const double y = 0.5 * wetted * (1 - std::cos(t));
    sum += 2 * std::sqrt(y * (bore - y)) * std::sqrt(depth - y) * 0.5 * wetted * std::sin(t) * pi / n;
  }
  return cd * std::sqrt(2 * gravity_ms2) * sum;
}

}  // namespace

TEST_CASE("sharp orifices") {
  // Torricelli with Cd, computed to 11 digits.
  CHECK(orifice_flow(0.5, 0.010, 0.61).flow_m3s == Approx(1.5003067188e-04).epsilon(1e-10));
  CHECK(orifice_flow(0.3, 0.006, 0.62).flow_m3s == Approx(4.2522621880e-05).epsilon(1e-10));
  // A mining permit's table: 1/2 in hole, C 0.6, g 32.2; printed to three decimals of a cubic foot per
  // second.
  const double printed[][2] = {{1, 0.007}, {2, 0.009}, {3, 0.011}, {5, 0.015}, {6.3, 0.016}};
  for (const auto& [head_ft, cfs] : printed) {
    CHECK(orifice_flow(head_ft * foot_m, 0.5 * 0.0254, 0.6).flow_m3s / cfs_m3s == Approx(cfs).margin(0.0005));
  }
  // The same at 5 ft, computed 0.0146807; g 32.2 ft/s2 is 0.08 % above the standard one.
  CHECK(orifice_flow(5 * foot_m, 0.5 * 0.0254, 0.6).flow_m3s / cfs_m3s *
            std::sqrt(32.2 * foot_m / gravity_ms2) ==
        Approx(0.0146807).epsilon(5e-6));
  CHECK(orifice_flow(0.0, 0.01, 0.6).flow_m3s == 0.0);
  CHECK(orifice_flow(-1.0, 0.01, 0.6).flow_m3s == 0.0);
}

TEST_CASE("measured coefficients of a sharp half-inch hole") {
  // [britannica1911], vol. 14, Hydraulics 18.
  CHECK(measured_sharp_hole_cd(1 * foot_m) == Approx(0.620).epsilon(1e-12));
  CHECK(measured_sharp_hole_cd(4 * foot_m) == Approx(0.608).epsilon(1e-12));
  CHECK(measured_sharp_hole_cd(3 * foot_m) == Approx(0.6105).epsilon(1e-12));  // half way
  CHECK(measured_sharp_hole_cd(0.01) == 0.620);
  CHECK(measured_sharp_hole_cd(100) == 0.603);
  // Unwin's fit to Mair's tests, d 1 to 3 in: 0.6075 + 0.0098/sqrt(h ft) - 0.0037 d in; 0.6087 for 4 ft and 1
  // in.
  CHECK(measured_sharp_hole_cd(4 * foot_m) == Approx(0.6087).epsilon(0.005));
}

TEST_CASE("an orifice as a K of the pipe it sits in") {
  const double flow = 3e-4, area = 0.25 * pi * 0.04 * 0.04;
  const double head = orifice_loss(0.015, 0.62, 0.04) * std::pow(flow / area, 2) / (2 * gravity_ms2);
  CHECK(orifice_flow(head, 0.015, 0.62).flow_m3s == Approx(flow).epsilon(1e-13));  // the inverse
}

TEST_CASE("a tank drains through a hole in the time Torricelli gives") {
  // 3 m2 plan, d 25 mm, Cd 0.6, 1.5 to 0.5 m: 2381.118404772 s, closed form; here by Simpson's rule over
  // dh/Q.
  const int n = 2000;
  double time = 0.0;
  for (int i = 0; i <= n; ++i) {
    const double weight = i == 0 || i == n ? 1 : (i % 2 ? 4 : 2);
    time += weight * 3.0 / orifice_flow(0.5 + static_cast<double>(i) / n, 0.025, 0.6).flow_m3s / (3.0 * n);
  }
  CHECK(time == Approx(2381.118404772).epsilon(1e-11));  // Simpson's error here is 1e-13
}

TEST_CASE("hole in a wall, from the first drop to deeply covered") {
  const double bore = 0.012, cd = 0.62;
  for (const double depth : {1e-6, 0.001, 0.006, 0.0118, 0.012, 0.0122, 0.02, 0.5}) {
    CAPTURE(depth);
    CHECK(hole_flow(depth, bore, cd).flow_m3s == Approx(strips(depth, bore, cd)).epsilon(1e-7));
  }
  // Deeply covered it is the orifice, less (r/h)^2/32 by the series of the integral.
  const double head = 0.3, ratio = 0.006 / head;
  CHECK(hole_flow(head + 0.006, bore, cd).flow_m3s ==
        Approx(orifice_flow(head, bore, cd).flow_m3s * (1 - ratio * ratio / 32)).epsilon(1e-8));
  CHECK(hole_flow(0.0, bore, cd).flow_m3s == 0.0);
}

TEST_CASE("slopes of openings are derivatives") {
  for (const double head : {0.003, 0.05, 2.0}) {
    const auto flow = [](double h) { return orifice_flow(h, 0.01, 0.62); };
    CHECK(flow(head).slope_m2s == Approx(difference(flow, head, 1e-5 * head)).epsilon(1e-7));
  }
  for (const double depth : {1e-4, 0.003, 0.009, 0.0119, 0.0121, 0.02, 1.0}) {
    const auto flow = [](double h) { return hole_flow(h, 0.012, 0.62); };
    CAPTURE(depth);
    CHECK(flow(depth).slope_m2s == Approx(difference(flow, depth, 1e-6 * depth)).epsilon(1e-6));
  }
  // No jump where the crown is covered.
  CHECK(hole_flow(0.012 * (1 - 1e-9), 0.012, 0.62).slope_m2s ==
        Approx(hole_flow(0.012 * (1 + 1e-9), 0.012, 0.62).slope_m2s).epsilon(1e-6));
}

TEST_CASE("drilled riser") {
  const std::vector<HoleRow> rows = {{0.10, 0.008, 6}, {0.20, 0.008, 6}, {0.30, 0.010, 4}};
  CHECK(drilled_riser_flow(rows, 0.09).flow_m3s == 0.0);  // below the lowest hole
  // By hand: two rows covered, the third dry.
  const double expected =
      6 * (hole_flow(0.154, 0.008, 0.62).flow_m3s + hole_flow(0.054, 0.008, 0.62).flow_m3s);
  CHECK(drilled_riser_flow(rows, 0.25).flow_m3s == Approx(expected).epsilon(1e-13));
  const auto flow = [&](double level) { return drilled_riser_flow(rows, level); };
  double before = 0.0;
  for (double level = 0.1; level < 0.5; level += 0.0013) {
    CHECK(flow(level).flow_m3s > before);
    before = flow(level).flow_m3s;
    CHECK(flow(level).slope_m2s ==
          Approx(difference(flow, level, 1e-7)).epsilon(1e-4));  // steps over kinks in curvature
  }
}

TEST_CASE("many rows of holes come near the formula for a perforated riser") {
  // Q = Cp (2 A / (3 H)) sqrt(2g) h^1.5 for holes spread evenly over H, water at h = H [mcenroe1988], from
  // memory. It is the integral of Torricelli over the height; 200 rows sit on it to about 1 %.
  std::vector<HoleRow> rows;
  const double height = 1.0, bore = 0.003;
  for (int i = 0; i < 200; ++i) rows.push_back({height * (i + 0.5) / 200, bore, 1});
  const double area = 200 * 0.25 * pi * bore * bore;
  CHECK(drilled_riser_flow(rows, height, 0.61).flow_m3s ==
        Approx(0.61 * 2 * area / (3 * height) * std::sqrt(2 * gravity_ms2)).epsilon(0.002));
}
