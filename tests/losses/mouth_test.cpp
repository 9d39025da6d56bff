#include "runnel/losses/mouth.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "runnel/base/constants.h"
#include "runnel/losses/part_full.h"

using namespace runnel;
using namespace runnel::losses;

namespace {

constexpr double foot_m = 0.3048;
constexpr double cfs_m3s = foot_m * foot_m * foot_m;

constexpr MouthEdge edges[] = {
    MouthEdge::square_in_wall, MouthEdge::groove_in_wall, MouthEdge::groove_projecting,
    MouthEdge::metal_in_wall,  MouthEdge::mitred,         MouthEdge::thin_projecting,
    MouthEdge::bevel_45,       MouthEdge::bevel_33};

Approx within(double value, double margin) { return Approx(value).epsilon(0.0).margin(margin); }

}  // namespace

TEST_CASE("headwater of ten small pipes") {
  // The forms of [hds-5] worked apart from the library with Ku 1.811; seven digits, and the second published
  // form to the thousandth.
  struct Row {
    const char* name;
    MouthEdge edge;
    double bore_mm, flow_ls, slope, load, ratio, head_mm, polynomial;
    MouthRegime regime;
  };
  using enum MouthEdge;
  const Row rows[] = {
      {"U1", square_in_wall, 26.0, 0.15, .02, 1.75214, 1.067140, 27.746, 1.067, MouthRegime::open},
      {"U2", thin_projecting, 26.0, 0.15, .02, 1.75214, 1.160647, 30.177, 1.188, MouthRegime::open},
      {"U3", groove_in_wall, 40.8, 0.40, .05, 1.51468, .884123, 36.072, 0.889, MouthRegime::open},
      {"U4", mitred, 51.4, 0.80, .10, 1.70056, 1.124384, 57.793, 1.155, MouthRegime::open},
      {"U5", bevel_45, 90.0, 3.00, .01, 1.57190, .935376, 84.184, 0.949, MouthRegime::open},
      {"T1", square_in_wall, 40.8, 0.55, .01, 2.08268, 1.235056, 50.390, 1.235, MouthRegime::between},
      {"S1", square_in_wall, 32.6, 0.40, .05, 2.65415, 1.564543, 51.004, 1.557, MouthRegime::drowned},
      {"S2", square_in_wall, 51.4, 2.00, .01, 4.25140, 3.024308, 155.449, 3.022, MouthRegime::drowned},
      {"S3", thin_projecting, 73.6, 4.00, .03, 3.46558, 2.703277, 198.961, 2.755, MouthRegime::drowned},
      {"S4", square_in_wall, 110.0, 14.0, 0, 4.44177, 3.245330, 356.986, 3.243, MouthRegime::drowned}};
  for (const Row& r : rows) {
    CAPTURE(r.name);
    const double bore = 1e-3 * r.bore_mm, flow = 1e-3 * r.flow_ls;
    const Mouth mouth(r.edge, bore, r.slope);
    CHECK(mouth_load(bore, flow) / 1.811 == within(r.load, 5.1e-6));
    CHECK(mouth.over_invert(flow).head_m / bore == within(r.ratio, 6e-7));
    CHECK(1e3 * mouth.over_invert(flow).head_m == within(r.head_mm, 5.1e-4));
    CHECK(mouth.over_axis(flow).head_m == Approx(mouth.over_invert(flow).head_m - 0.5 * bore).epsilon(1e-14));
    CHECK(mouth.regime(flow) == r.regime);
    CHECK(mouth_ratio_by_polynomial(r.edge, bore, r.slope, flow) == within(r.polynomial, 5.1e-4));
    CHECK(1e3 * mouth.flow_at(1e-3 * r.head_mm).flow_m3s == Approx(r.flow_ls).epsilon(3e-5));  // its digits
  }
}

TEST_CASE("least energy of two of them, and the two ends of the straight join") {
  // U1 and U4: critical depth, area, velocity and least energy, worked apart from the library.
  CHECK(critical_depth(0.026, 0.15e-3) == within(17.5857e-3, 5.1e-8));
  CHECK(wetted_segment(0.026, critical_depth(0.026, 0.15e-3)).area_m2 == within(382.17e-6, 5.1e-9));
  CHECK(critical_depth(0.0514, 0.8e-3) == within(34.2365e-3, 5.1e-8));
  CHECK(wetted_segment(0.0514, critical_depth(0.0514, 0.8e-3)).area_m2 == within(1468.07e-6, 5.1e-9));
  // T1: the join runs from 1.154135 to 1.302536 bores.
  const double bore = 0.0408, full = 0.25 * pi * bore * bore * std::sqrt(bore);
  const Mouth mouth(MouthEdge::square_in_wall, bore, 0.01);
  CHECK(mouth.over_invert(1.93 * full).head_m / bore == within(1.154135, 6e-7));
  CHECK(mouth.over_invert(2.21 * full).head_m / bore == within(1.302536, 6e-7));
  // The two curves do not meet at 1.93: 1.1591 and 1.1562 on the level.
  CHECK(Mouth(MouthEdge::square_in_wall, bore, 0.0).over_invert(1.93 * full).head_m / bore ==
        within(1.1591, 5.1e-5));
  CHECK(drowned_mouth_ratio(mouth_form(MouthEdge::square_in_wall), 1.811 * 1.93) == within(1.1562, 5.1e-5));
}

TEST_CASE("flow at a given depth") {
  // Square edge, slope 0.01, straight join; worked apart from the library, five decimals of a litre.
  for (const auto& [bore_mm, depth_mm, flow_ls] :
       {std::array{26.0, 26.0, 0.13643}, std::array{26.0, 39.0, 0.21652}, std::array{51.4, 51.4, 0.74968},
        std::array{51.4, 102.8, 1.50445}}) {
    CAPTURE(bore_mm, depth_mm);
    CHECK(1e3 * Mouth(MouthEdge::square_in_wall, 1e-3 * bore_mm, 0.01).flow_at(1e-3 * depth_mm).flow_m3s ==
          within(flow_ls, 5.1e-6));
  }
}

TEST_CASE("worked numbers in print") {
  // A public calculator's specification: 36 in, 30 ft3/s, slope 0.01, square edge: 2.450, critical depth
  // 1.774 ft (its digits cut off), least energy 2.512 ft, 0.891 bores, 2.67 ft; thin wall standing out,
  // 60 ft3/s: 1.863 bores, 5.59 ft. Worked again: 1.77455, 2.51257, 2.6741; 5.5894 ft.
  const double bore = 3.0 * foot_m;
  CHECK(mouth_load(bore, 30 * cfs_m3s) == within(2.450, 6e-4));
  CHECK(critical_depth(bore, 30 * cfs_m3s) / foot_m == within(1.77455, 6e-6));
  const double square = Mouth(MouthEdge::square_in_wall, bore, 0.01).over_invert(30 * cfs_m3s).head_m;
  CHECK(square / bore == within(0.891, 5.1e-4));
  CHECK(square / foot_m == within(2.6741, 1.5e-4));  // 1.811 is a five-thousandth below the exact factor
  const double thin = Mouth(MouthEdge::thin_projecting, bore, 0.01).over_invert(60 * cfs_m3s).head_m;
  CHECK(thin / bore == within(1.863, 7e-4));
  CHECK(thin / foot_m == within(5.5894, 2e-3));
}

TEST_CASE("the manual's own example, an ellipse of thin metal") {
  // [hds-5] pp. 195-196, feet, slope 0.02. Load and least energy printed to 0.01, so to 0.01 here. A fourth
  // line, load 2.54, is printed as 0.55 but is 0.97. Y is 0.53 in the example, 0.57 in its table.
  const MouthForm ellipse{"", "ellipse", .0340, 1.5, .0496, .53, -0.5, {}};
  const double open[][3] = {
      {0.30, 0.27, 0.27}, {1.18, 0.55, 0.58}, {2.54, 0.84, 0.97}, {4.60, 1.22, 1.54}, {6.20, 1.53, 2.05}};
  for (const auto& [load, energy, printed] : open) {
    CAPTURE(load);
    CHECK(open_mouth_ratio(ellipse, energy, load) - 0.01 == within(printed, 0.0075));
  }
  const double drowned[][2] = {{4, 1.31}, {6, 2.31}, {8, 3.69}};
  for (const auto& [load, printed] : drowned) {
    CHECK(drowned_mouth_ratio(ellipse, load) - 0.01 == within(printed, 0.0051));
  }
}

TEST_CASE("the second published form agrees within the error that the first one claims") {
  // The greatest difference of each edge over 0.5 to 3 bores, as found here: both are fits to tests, and all
  // stay inside the 10 % of [hds-5].
  const double differences[] = {.016, .016, .015, .017, .062, .057, .090, .039};
  for (int i = 0; i < 8; ++i) {
    const Mouth mouth(edges[i], 0.3, 0.02);
    double worst = 0.0;
    for (double depth = 0.5; depth <= 3.0; depth += 0.01) {
      const double flow = mouth.flow_at(0.3 * depth).flow_m3s;
      const double other = mouth_ratio_by_polynomial(edges[i], 0.3, 0.02, flow);
      worst = std::fmax(worst, std::fabs(other / depth - 1.0));
    }
    CAPTURE(mouth_form(edges[i]).name);
    CHECK(worst < differences[i]);
    CHECK(worst < mouth_uncertainty);
  }
}

TEST_CASE("the head at a mouth rises strictly and without a step, its slope is the derivative") {
  for (const MouthEdge edge : edges) {
    for (const double bore : {0.016, 0.026, 0.11, 0.6}) {
      for (const double slope : {-0.2, 0.0, 0.02, 0.1, 0.9}) {
        CAPTURE(mouth_form(edge).name, bore, slope);
        const Mouth mouth(edge, bore, slope);
        const double unit = 0.25 * pi * bore * bore * std::sqrt(bore);
        double before = 0.0, at = 0.0;
        bool rises = true, smooth = true, sloped = true, back = true;
        for (double load = 1e-7; load < 50.0; load *= 1.02) {
          const double flow = load * unit;
          const HeadAndSlope here = mouth.over_invert(flow);
          rises = rises && here.head_m > before && here.slope_sm2 > 0.0 && std::isfinite(here.slope_sm2);
          // No step: a fiftieth more flow never asks for more than 30 % more head.
          smooth = smooth && (before == 0.0 || here.head_m < 1.3 * before);
          const double step = 1e-6 * flow;
          const HeadAndSlope up = mouth.over_invert(flow + step), down = mouth.over_invert(flow - step);
          if (up.slope_sm2 < 1.001 * down.slope_sm2 && up.slope_sm2 > 0.999 * down.slope_sm2) {
            const double difference = (up.head_m - down.head_m) / (2 * step);
            sloped = sloped && std::fabs(here.slope_sm2 / difference - 1.0) < 1e-6;
          }
          const FlowAndSlope inverse = mouth.flow_at(here.head_m);
          back = back && std::fabs(inverse.flow_m3s / flow - 1.0) < 1e-11;
          before = here.head_m, at = flow;
        }
        CHECK(rises);
        CHECK(smooth);
        CHECK(sloped);
        CHECK(back);
        CHECK(at > 40.0 * unit);
        CHECK(mouth.over_invert(0.0).head_m == 0.0);
        CHECK(mouth.over_invert(0.0).slope_sm2 > 0.0);
        CHECK(mouth.over_invert(-unit).head_m == -mouth.over_invert(unit).head_m);
        CHECK(mouth.over_invert(-unit).slope_sm2 == mouth.over_invert(unit).slope_sm2);
        CHECK(mouth.flow_at(0.0).flow_m3s == 0.0);
        CHECK(mouth.flow_at(-1.0).flow_m3s == 0.0);
      }
    }
  }
}

TEST_CASE("the pieces of the head at a mouth meet") {
  for (const MouthEdge edge : edges) {
    for (const double slope : {0.0, 0.05, 0.5}) {
      const double bore = 0.0408, unit = 0.25 * pi * bore * bore * std::sqrt(bore);
      const Mouth mouth(edge, bore, slope);
      // At a critical depth of a hundredth of the bore the load is 4.33e-4; there and at 1.93 and 2.21.
      for (const double load : {4.3320552638e-4, 1.93, 2.21}) {
        CAPTURE(mouth_form(edge).name, slope, load);
        const double below = mouth.over_invert(load * unit * (1 - 1e-8)).head_m;
        CHECK(mouth.over_invert(load * unit * (1 + 1e-8)).head_m == Approx(below).epsilon(1e-6));
      }
    }
  }
}

TEST_CASE("a mouth asks for at least the least energy on the level, and never goes below the invert") {
  std::mt19937 random(20);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  for (int i = 0; i < 500; ++i) {
    const double bore = 0.012 * std::pow(20.0, uniform(random));
    const double flow =
        std::pow(10.0, -4.0 + 4.2 * uniform(random)) * 0.25 * pi * bore * bore * std::sqrt(bore);
    const MouthEdge edge = edges[i % 8];
    const double depth = critical_depth(bore, flow);
    const Segment wet = wetted_segment(bore, depth);
    const double film = 0.01 * bore;
    CAPTURE(mouth_form(edge).name, bore, flow);
    const double level = Mouth(edge, bore, 0.0).over_invert(flow).head_m;
    if (depth > film && depth < 0.7 * bore) CHECK(level >= depth + 0.5 * wet.area_m2 / wet.top_width_m);
    const double steep = Mouth(edge, bore, 5.0).over_invert(flow).head_m;
    CHECK(steep > 0.0);
    // Steeper than one in ten relieves no more; cut to the slope of a bank it only asks for more.
    if (edge == MouthEdge::mitred)
      CHECK(steep > level);
    else
      CHECK(steep == Mouth(edge, bore, 0.1).over_invert(flow).head_m);
  }
}

TEST_CASE("a mouth that is well covered is no bottleneck for a long line") {
  // 26 mm, 0.3 L/s, half a metre of water over the axis: the mouth would pass 0.86 L/s.
  const Mouth mouth(MouthEdge::square_in_wall, 0.026, 0.05);
  CHECK(mouth.over_axis(0.3e-3).head_m < 0.06);
  CHECK(mouth.flow_at(0.513).flow_m3s > 0.8e-3);
}
