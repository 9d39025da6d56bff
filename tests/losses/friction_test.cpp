// Losses per metre of a full pipe under both laws.
#include "runnel/losses/friction.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "runnel/base/constants.h"
#include "support/worked_line.h"

using namespace runnel;
using namespace runnel::losses;

namespace {

constexpr double gpm_m3s = 6.30901964e-5;  // US gallon 231 in3, exact to the digits given
constexpr double inch_m = 0.0254, foot_m = 0.3048;

FrictionLaw hazen(double k, double n, double m) { return {Law::hazen_williams, k, n, m}; }

PipeFriction hazen_pipe(double bore_m, double c, const FrictionLaw& law = hazen(10.667, 1.852, 4.871)) {
  return {law, bore_m, 0.0, c, 1.139e-6};
}

double velocity_head_m(double flow_m3s, double area_m2) {
  const double v = flow_m3s / area_m2;
  return v * v / (2.0 * gravity_ms2);
}

/// Darcy-Weisbach loss per metre in long double, written apart from the library: Newton on 1/sqrt f.
long double reference_loss(long double flow, long double bore, long double roughness, long double nu) {
  const long double area = 3.14159265358979323846264L * bore * bore / 4, v = flow / area, re = v * bore / nu;
  const auto turbulent = [&](long double r) {
    const long double rel = roughness / bore;
    long double x = 6;
    for (int i = 0; i < 60; ++i) {
      const long double inside = rel / 3.7L + 2.51L * x / r;
      const long double g = x + 2 * std::log10(inside);
      x -= g / (1 + 2 / std::log(10.0L) * 2.51L / r / inside);
    }
    return 1 / (x * x);
  };
  long double f = 64 / re;
  if (re >= 4000) {
    f = turbulent(re);
  } else if (re > 2000) {
    const long double t = (re - 2000) / 2000, step = 1e-3L;
    const long double end_slope = 2000 * (turbulent(4000 + step) - turbulent(4000 - step)) / (2 * step);
    f = (2 * t * t * t - 3 * t * t + 1) * 0.032L + (t * t * t - 2 * t * t + t) * -0.032L +
        (-2 * t * t * t + 3 * t * t) * turbulent(4000) + (t * t * t - t * t) * end_slope;
  }
  return f / bore * v * v / (2 * 9.80665L);
}

std::vector<PipeFriction> sample_pipes() {
  std::vector<PipeFriction> pipes;
  for (const double bore : {0.004, 0.0209, 0.0408, 0.1541, 0.6}) {
    for (const double roughness : {0.0, 1.5e-6, 1.5e-4}) {
      pipes.emplace_back(FrictionLaw{}, bore, roughness, 150.0, 1.306e-6);
    }
    for (const double c : {80.0, 150.0})
      pipes.emplace_back(hazen(10.67, 1.852, 4.8704), bore, 0.0, c, 1.306e-6);
  }
  return pipes;
}

}  // namespace

TEST_CASE("both laws are odd, rise everywhere and have a slope at zero flow") {
  for (const PipeFriction& pipe : sample_pipes()) {
    CAPTURE(pipe.bore_m(), static_cast<int>(pipe.law()));
    const LossAndSlope still = pipe.per_metre(0.0);
    CHECK(still.head_m == 0.0);
    CHECK(still.slope_sm2 > 0.0);
    CHECK(std::isfinite(still.slope_sm2));
    double before = 0.0;
    for (double flow = 1e-12; flow < 1.0; flow *= 1.003) {
      const LossAndSlope there = pipe.per_metre(flow), back = pipe.per_metre(-flow);
      const bool good = there.head_m > before && there.slope_sm2 > 0.0 && back.head_m == -there.head_m &&
                        back.slope_sm2 == there.slope_sm2;
      if (!good) {
        CAPTURE(flow, there.head_m, before);
        FAIL("not odd or not rising");
      }
      before = there.head_m;
    }
  }
}

TEST_CASE("the slope is the derivative of the loss, for both laws and all regimes") {
  for (const PipeFriction& pipe : sample_pipes()) {
    for (double flow = 1e-9; flow < 0.5; flow *= 1.31) {
      const double step = 1e-5 * flow;
      const double difference =
          (pipe.per_metre(flow + step).head_m - pipe.per_metre(flow - step).head_m) / (2 * step);
      CAPTURE(pipe.bore_m(), flow);
      CHECK(pipe.per_metre(flow).slope_sm2 ==
            Approx(difference).epsilon(1e-7));  // rounding of the difference, 1e-16 / 1e-5, and its curvature
    }
  }
}

TEST_CASE("Darcy-Weisbach against the same law in long double, written apart") {
  for (const double bore : {0.004, 0.0209, 0.0408, 0.1541, 0.6}) {
    for (const double roughness : {0.0, 1.5e-6, 1.5e-4}) {
      const PipeFriction pipe({}, bore, roughness, 150.0, 1.306e-6);
      for (double flow = 1e-9; flow < 0.5; flow *= 1.31) {
        const long double l = flow, step = 1e-6L * l;
        const auto loss = [&](long double q) { return reference_loss(q, bore, roughness, 1.306e-6L); };
        CAPTURE(bore, roughness, flow);
        CHECK(pipe.per_metre(flow).head_m == Approx(static_cast<double>(loss(l))).epsilon(1e-12));
        CHECK(pipe.per_metre(flow).slope_sm2 ==
              Approx(static_cast<double>((loss(l + step) - loss(l - step)) / (2 * step))).epsilon(1e-7));
      }
    }
  }
}

TEST_CASE("one pipe, seven flows, both laws") {
  // tests/data/lines/README.md says how the figures were computed.
  const auto worked = runnel::test::worked_line("02_headloss_single_pipe");
  const double length = worked.input("L"), bore = worked.input("D"), c = worked.input("C");
  const PipeFriction darcy({}, bore, worked.input("eps"), c, worked.input("nu"));
  CHECK(worked.expected.at("rows").size() == 7);
  CHECK(worked.expected.at("hw_constants").size() == 5);
  for (const auto& row : worked.expected.at("rows")) {
    const double flow = row.at("Q_m3s").get<double>();
    CAPTURE(flow);
    CHECK(length * darcy.per_metre(flow).head_m ==
          Approx(row.at("hf_dw").get<double>()).epsilon(1e-12));  // same exact formula
    for (const auto& [name, set] : worked.expected.at("hw_constants").items()) {
      CAPTURE(name);
      const FrictionLaw law =
          hazen(set.at("coef").get<double>(), set.at("expQ").get<double>(), set.at("expD").get<double>());
      const double pure = row.at("hf_hw").at(name).get<double>();
      const double loss =
          length * PipeFriction(law, bore, worked.input("eps"), c, worked.input("nu")).per_metre(flow).head_m;
      CHECK(loss == Approx(pure).epsilon(1e-12));
    }
  }
}

TEST_CASE("the losses a choice of sizes is made from") {
  const auto worked = runnel::test::worked_line("31_sizing_series_line");
  const auto& reaches = worked.inputs.at("reaches");
  const auto& sizes = worked.inputs.at("sizes");
  for (std::size_t r = 0; r < reaches.size(); ++r)
    for (std::size_t s = 0; s < sizes.size(); ++s) {
      const PipeFriction pipe({}, sizes[s].at("bore").get<double>(), worked.input("eps"), 150,
                              worked.input("nu"));
      const double loss =
          reaches[r].at("L").get<double>() * pipe.per_metre(reaches[r].at("Q").get<double>()).head_m;
      CAPTURE(r, s);
      CHECK(loss == Approx(worked.expected.at("head_loss_table")[r][s].get<double>()).epsilon(1e-12));
    }
}

TEST_CASE("laminar drip line follows Hagen-Poiseuille") {
  // 0.8 m over 25 m of 4 mm tube: closed form pi g D^4 h / (128 nu L).
  const auto drip = runnel::test::worked_line("03_laminar_drip_line");
  const PipeFriction tube({}, 0.004, 0.0, 150, 1.139e-6);
  CHECK(25 * tube.per_metre(drip("Q")).head_m == Approx(0.8).epsilon(1e-13));
  // 0.05 m over 100 m of 20.9 mm: the same closed form, another water.
  const PipeFriction pipe({}, 0.0209, 1.5e-6, 150, 1.30628832e-6);
  CHECK(100 * pipe.per_metre(1.7578292376e-05).head_m == Approx(0.05).epsilon(1e-10));  // 11 digits given
}

TEST_CASE("box to free outlet: friction and fittings add up to the fall") {
  const auto worked = runnel::test::worked_line("04_box_to_free_outlet_dw");
  const double flow = worked("Q");
  const PipeFriction pipe({}, 0.0514, 1.5e-6, 150, 1.139e-6);
  const double friction = 1240 * pipe.per_metre(flow).head_m;
  CHECK(friction == Approx(worked("friction_loss")).epsilon(1e-12));
  CHECK(friction + 2.7 * velocity_head_m(flow, pipe.area_m2()) == Approx(412.35 - 371.8).epsilon(1e-12));
}

TEST_CASE("box to trough in US units by Hazen-Williams") {
  // Constants 10.6744/1.852/4.8704; K 1.5 with the exit.
  const auto worked = runnel::test::worked_line("05_us_units_box_to_trough_hw");
  const PipeFriction pipe(hazen(10.6744, 1.852, 4.8704), 1.38 * inch_m, 0, 140, 1.139e-6);
  const auto loss_ft = [&](double gpm) {
    const double flow = gpm * 3.785411784e-3 / 60.0;
    return (1800 * foot_m * pipe.per_metre(flow).head_m + 1.5 * velocity_head_m(flow, pipe.area_m2())) /
           foot_m;
  };
  CHECK(loss_ft(worked("Q_gpm")) == Approx(60.0).epsilon(1e-12));
  CHECK(loss_ft(5.0) == Approx(worked("loss_at_5_gpm_ft")).epsilon(1e-12));
}

TEST_CASE("gravity lines: the loss at the known flow is the fall") {
  struct Row {
    double fall, length, bore, roughness, k, flow;
  };
  // Computed with scipy, 10 C water, 11 digits of flow.
  constexpr Row rows[] = {{30, 1000, 0.0332, 1.5e-6, 0, 7.6067510298e-04},
                          {30, 1000, 0.0332, 1.5e-6, 1.5, 7.5982635116e-04},
                          {10, 500, 0.0508, 1.5e-6, 2.5, 1.8948582179e-03},
                          {2, 300, 0.0266, 1.5e-6, 0, 1.7544895211e-04},
                          {5, 200, 0.0409, 1.5e-4, 5, 1.0274150327e-03}};
  for (const Row& row : rows) {
    const PipeFriction pipe({}, row.bore, row.roughness, 150, 1.30628832e-6);
    const double loss =
        row.length * pipe.per_metre(row.flow).head_m + row.k * velocity_head_m(row.flow, pipe.area_m2());
    CHECK(loss == Approx(row.fall).epsilon(2e-10));  // 11 digits of flow, squared
  }
  struct HazenRow {
    double fall, length, bore, c, flow;
  };
  constexpr HazenRow hazen_rows[] = {{30, 1000, 0.0332, 150, 8.1115827540e-04},
                                     {10, 500, 0.0508, 140, 1.8617143580e-03},
                                     {5, 200, 0.0409, 120, 1.0178693017e-03}};
  for (const HazenRow& row : hazen_rows) {
    CHECK(row.length * hazen_pipe(row.bore, row.c).per_metre(row.flow).head_m ==
          Approx(row.fall).epsilon(2e-10));
  }
}

TEST_CASE("textbook losses by Darcy-Weisbach") {
  // Pump example of a fluid mechanics text (inputs from memory, printed answer reproduced): 0.2 ft3/s in 400
  // ft of 2 in pipe, roughness ratio 0.001, K 12.2: 83.44445 ft with g = 32.2.
  const double flow = 0.2 * std::pow(foot_m, 3), bore = 2 * inch_m;
  const PipeFriction pump({}, bore, 0.001 * bore, 150, 1.1e-5 * foot_m * foot_m);
  const double loss =
      400 * foot_m * pump.per_metre(flow).head_m + 12.2 * velocity_head_m(flow, pump.area_m2());
  const double g_scale = gravity_ms2 / (32.2 * foot_m);
  CHECK(loss / foot_m * g_scale == Approx(83.44445).epsilon(1e-6));  // 7 digits recomputed

  // Two cast-iron pipes in series (university tutorial): 0.5 m3/s, 300 m of 0.6 and 0.4 m, entrance 0.5,
  // contraction 0.24, exit 1. Printed 13.337 m, read from a chart; exact 13.3633847 m (g = 9.81).
  const PipeFriction wide({}, 0.6, 0.26e-3, 150, 1.31e-6), narrow({}, 0.4, 0.26e-3, 150, 1.31e-6);
  const double series = 300 * (wide.per_metre(0.5).head_m + narrow.per_metre(0.5).head_m) +
                        0.5 * velocity_head_m(0.5, wide.area_m2()) +
                        1.24 * velocity_head_m(0.5, narrow.area_m2());
  CHECK(series * gravity_ms2 / 9.81 == Approx(13.3633847).epsilon(1e-8));
  CHECK(series == Approx(13.337).epsilon(0.003));

  // Three pipes in series (inputs from memory, printed 2.84e-3 m3/s): head 150 kPa and 5 m.
  const double q = 2.8391524691e-3;
  double head = 0.0;
  const double rows[][3] = {{100, 0.08, 0.003}, {150, 0.06, 0.002}, {80, 0.04, 0.005}};
  for (const auto& [length, d, rel] : rows) {
    head += length * PipeFriction({}, d, rel * d, 150, 1.02e-6).per_metre(q).head_m;
  }
  CHECK(head * gravity_ms2 / 9.81 == Approx(150000 / 9810.0 + 5).epsilon(1e-9));
}

TEST_CASE("Hazen-Williams by four sets of constants") {
  struct Row {
    double bore, flow, c, head[4];
  };
  // Metres per 100 m, computed from the formula; sets 10.667/1.852/4.871, 10.67/1.852/4.8704, exact 1.318 ft
  // form, exact 0.849 SI form. Ten decimals.
  // The last figure of each row is the one before it times 10.67416093/10.66991721.
  constexpr Row rows[] = {{0.05, 0.001, 150, {0.6015038234, 0.6005924917, 0.6015958173, 0.6018350885}},
                          {0.0266, 0.0003, 140, {1.5901690073, 1.5871586416, 1.5900476927, 1.5906800984}},
                          {0.1, 0.01, 130, {1.9055449886, 1.9034493765, 1.9059776542, 1.9067357141}},
                          {0.3, 0.1, 100, {1.0446833267, 1.0442225328, 1.0452463085, 1.0456620318}}};
  const FrictionLaw sets[] = {hazen(10.667, 1.852, 4.871), hazen(10.67, 1.852, 4.8704),
                              hazen(10.66991721, 1 / 0.54, 2.63 / 0.54),
                              hazen(10.67416093, 1 / 0.54, 2.63 / 0.54)};
  for (const Row& row : rows) {
    for (int i = 0; i < 4; ++i) {
      const double head = 100 * hazen_pipe(row.bore, row.c, sets[i]).per_metre(row.flow).head_m;
      CHECK(head == Approx(row.head[i]).epsilon(1e-9));
    }
  }
}

TEST_CASE("Hazen-Williams: printed friction tables") {
  struct Row {
    double gpm, bore_in, printed;
  };
  const auto check = [](const Row& row, double per_foot, double relative, double digit) {
    const double ours =
        100 * per_foot * hazen_pipe(row.bore_in * inch_m, 150).per_metre(row.gpm * gpm_m3s).head_m;
    CAPTURE(row.gpm, row.bore_in, row.printed, ours);
    CHECK(std::fabs(ours - row.printed) <= relative * row.printed + digit);
  };
  // [illinois-77-906] Schedule 40 plastic pipe, ft per 100 ft; bores are the nominal Schedule 40 ones.
  constexpr Row regulation[] = {{5, 1.049, 1.52},  {10, 1.049, 5.50}, {10, 1.380, 1.46}, {15, 1.380, 3.06},
                                {20, 1.380, 5.23}, {20, 1.610, 2.46}, {30, 1.610, 5.22}, {20, 2.067, 0.74},
                                {30, 2.067, 1.54}, {50, 2.067, 3.98}, {50, 3.068, 0.58}, {100, 3.068, 2.09},
                                {100, 4.026, 0.55}};
  for (const Row& row : regulation) check(row, 1.0, 0.005, 0.0105);  // two decimals, the last one loose
  // [irrigation-course] PVC class 160, psi per 100 ft, bores printed; 0.4331 psi/ft.
  constexpr Row course[] = {{10, 1.195, 1.27},  {20, 1.195, 4.59},  {40, 2.193, 0.86},
                            {100, 2.193, 4.72}, {100, 3.230, 0.72}, {200, 4.154, 0.76}};
  for (const Row& row : course) check(row, 0.4331, 0.012, 0.005);
  // [irrigation-catalogue] PVC SDR 13.5, average bores, psi per 100 ft.
  constexpr Row catalogue[] = {
      {5, 0.696, 4.89}, {5, 0.874, 1.61}, {5, 1.101, 0.53}, {8, 1.101, 1.25}, {8, 0.696, 11.68}};
  for (const Row& row : catalogue) check(row, 0.4331, 0.0065, 0.0055);
  // [irrigation-supplier] PVC SDR 21, psi per 100 ft, at average bores (minimum-wall bores would be 3.5 to 10
  // % off).
  constexpr Row supplier[] = {{10, 1.169, 1.41}, {10, 1.482, 0.445}, {10, 1.700, 0.228}, {10, 2.129, 0.076},
                              {5, 1.169, 0.391}, {15, 1.700, 0.483}, {15, 2.129, 0.162}};
  for (const Row& row : supplier) check(row, 0.4331, 0.01, 0.0005);
}

TEST_CASE("Hazen-Williams joins its smooth start at Re 100 in value and slope") {
  const double nu = 1.306e-6, bore = 0.0266;
  const PipeFriction pipe(hazen(10.67, 1.852, 4.8704), bore, 0, 140, nu);
  const double joint = 100 * pipe.area_m2() * nu / bore;
  const LossAndSlope below = pipe.per_metre(joint * (1 - 1e-12)), above = pipe.per_metre(joint * (1 + 1e-12));
  CHECK(below.head_m == Approx(above.head_m).epsilon(1e-11));  // the step itself is 2e-12
  CHECK(below.slope_sm2 == Approx(above.slope_sm2).epsilon(1e-11));
  // The pure law, to the last digits, above the joint.
  const double pure = 10.67 * std::pow(2 * joint, 1.852) / (std::pow(140, 1.852) * std::pow(bore, 4.8704));
  CHECK(pipe.per_metre(2 * joint).head_m == Approx(pure).epsilon(1e-13));
}

TEST_CASE("a pipe that cannot be is refused") {
  CHECK_THROWS_AS(PipeFriction({}, 0.0, 0.0, 150, 1e-6), std::invalid_argument);
  CHECK_THROWS_AS(PipeFriction({}, 0.05, -1e-6, 150, 1e-6), std::invalid_argument);
  CHECK_THROWS_AS(PipeFriction({}, 0.05, 0.0, 150, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(PipeFriction({}, std::nan(""), 0.0, 150, 1e-6), std::invalid_argument);
  CHECK_THROWS_AS(PipeFriction(hazen(10.67, 1.852, 4.87), 0.05, 0.0, 0.0, 1e-6), std::invalid_argument);
  CHECK_THROWS_AS(PipeFriction(hazen(10.67, 0.99, 4.87), 0.05, 0.0, 150, 1e-6), std::invalid_argument);
}
