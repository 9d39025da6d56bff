// Sources: closed forms of the falling head, worked beside them.
#include "runnel/filling/drain_down.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "runnel/base/constants.h"
#include "support/rooms.h"
#include "systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// Loss k L Q^2 / (C^2 D^5): an exponent of 2 makes the falling head integrable in closed form.
losses::FrictionLaw square_law() { return {losses::Law::hazen_williams, 10.0, 2.0, 5.0}; }

LimbPiece column(double top_m, double length_m, double bore_m, double c = 140.0) {
  const losses::PipeFriction friction(square_law(), bore_m, 0.0, c, 1.1e-6);
  return {top_m, 0.0, length_m, friction.area_m2(), 0.0, friction};
}

double opening_loss(double bore_m, double cd) {  // head = this * Q^2
  const double area = cd * std::numbers::pi / 4.0 * bore_m * bore_m;
  return 1.0 / (2.0 * gravity_ms2 * area * area);
}

/// Time for a column of slope length L and height h above the opening to fall from h0 to h1: the head is
/// (a + b h) Q^2 with b = friction per metre of height, dV = A L / h0 dh, so t = A L / h0 times the
/// integral of sqrt((a + b h) / h) = sqrt(h (a + b h)) + a / sqrt(b) asinh(sqrt(b h / a)).
double closed_form_s(double a, double b, double area_per_height, double h0, double h1) {
  const auto f = [&](double h) {
    return std::sqrt(h * (a + b * h)) + a / std::sqrt(b) * std::asinh(std::sqrt(b * h / a));
  };
  return area_per_height * (f(h0) - f(h1));
}

}  // namespace

TEST_CASE("a tank of 3 m2 falls from 1.5 m to 0.5 m through 25 mm") {
  // t = 2 A (sqrt(h0) - sqrt(h1)) / (Cd a sqrt(2 g)) with Cd 0.6: 2381.118404772 s, computed in Python. A
  // pipe as wide as the tank, upright, nearly without friction.
  const Draining d = drain({{{column(1.5, 1.5, std::sqrt(12.0 / std::numbers::pi))}, {}}}, 0.025, 0.6, 0.5);
  CHECK(d.time_s == Approx(2381.118404772).epsilon(1e-6));
  CHECK(d.drained_m3 == Approx(3.0).epsilon(1e-9));
  // Cd A sqrt(2 g h) with h = 1.5 m: 0.6 * 4.908739e-4 * 5.424016 = 1.597504e-3 m3/s.
  CHECK(d.first_m3s == Approx(1.597504e-3).epsilon(1e-6));
}

TEST_CASE("a straight pipe against the closed form with friction") {
  const double bore = 0.05, length = 200.0, height = 20.0, end = 0.0125;
  for (const double hole : {0.025, 0.05}) {
    const Draining d = drain({{{column(height, length, bore)}, {}}}, hole, 0.62, end);
    const double area = std::numbers::pi / 4.0 * bore * bore;
    const double b = 10.0 / (140.0 * 140.0 * std::pow(bore, 5.0)) * length / height;
    const double a = opening_loss(hole, 0.62);
    INFO(hole);
    // 1e-5: the method's own error of about 1e-6, and the last centimetres where Re is small.
    CHECK(d.time_s == Approx(closed_form_s(a, b, area * length / height, height, end)).epsilon(1e-5));
    CHECK(d.drained_m3 == Approx(area * length * (1.0 - end / height)).epsilon(1e-9));
  }
}

TEST_CASE("two equal limbs drain as one whose opening is half as wide in area") {
  // By symmetry each limb carries half: head = (4 a + b h) q^2.
  const double bore = 0.04, end = 0.01;
  const Limb limb{{column(10.0, 100.0, bore)}, {}};
  const Draining d = drain({limb, limb}, 0.03, 0.62, end);
  const double b = 10.0 / (140.0 * 140.0 * std::pow(bore, 5.0)) * 10.0;
  const double area_per_height = std::numbers::pi / 4.0 * bore * bore * 10.0;
  CHECK(d.time_s ==
        Approx(closed_form_s(4.0 * opening_loss(0.03, 0.62), b, area_per_height, 10.0, end)).epsilon(1e-5));
}

namespace {

/// A high, a low with a washout, a lower high, and on down.
Model valley() {
  Model s = with_water();
  s.friction = square_law();
  s.boxes.push_back(spring("spring", 1e-4, 110.0, 111.0));
  s.tanks.push_back(round_tank("tank", 80.0, 2.0, 3.0));
  Pipeline l = line("main", "spring", "tank", 400.0, 110.0, 82.0, 0.05);
  l.pipes.front().pipe.hazen_c = 140.0;
  l.survey = {{m(0), m(110)}, {m(100), m(90)}, {m(200), m(105)}, {m(400), m(82)}};
  Part washout;
  washout.kind = PartKind::washout;
  washout.name = "W1";
  washout.at = m(100);
  l.parts.push_back(washout);
  s.pipelines.push_back(l);
  return s;
}

}  // namespace

TEST_CASE("the section of a washout reaches to the neighbouring highs") {
  const Model s = valley();
  CHECK(washouts_of(s) == std::vector<std::string>{"W1"});
  CHECK_FALSE(drain_down(s, "W2"));
  const DrainDown d = drain_down(s, "W1").value();
  CHECK(d.from_m == 0.0);
  CHECK(d.to_m == 200.0);
  CHECK(d.height_m == Approx(20.0).epsilon(1e-12));
  CHECK(d.bore_m == 0.05);
  CHECK(d.stays_m3 == 0.0);
  // Slope lengths sqrt(100^2 + 20^2) and sqrt(100^2 + 15^2), less half a bore of height in each.
  const double area = std::numbers::pi / 4.0 * 0.05 * 0.05;
  const double all =
      area * (std::hypot(100.0, 20.0) * (1 - 0.025 / 20) + std::hypot(100.0, 15.0) * (1 - 0.025 / 15));
  CHECK(d.draining.drained_m3 == Approx(all).epsilon(2e-3));  // the limbs do not end at one height
  CHECK(d.draining.drained_m3 <= all + area);
  const DrainDown narrow = drain_down(s, "W1", {0.0125, 0.62}).value();
  CHECK(narrow.draining.time_s > 10.0 * d.draining.time_s);  // a sixteenth of the opening
}

TEST_CASE("a washout beside the low leaves water, one at a high drains nothing") {
  Model s = valley();
  s.pipelines.front().parts.front().at = m(50);  // elevation 100, the low lies at 90
  const DrainDown beside = drain_down(s, "W1").value();
  // From the washout down to 90 and up to 100 again: half of one limb, two thirds of the other.
  const double area = std::numbers::pi / 4.0 * 0.05 * 0.05;
  CHECK(beside.stays_m3 ==
        Approx(area * (0.5 * std::hypot(100.0, 20.0) + 2.0 / 3.0 * std::hypot(100.0, 15.0))).epsilon(1e-12));
  CHECK(beside.height_m == Approx(10.0).epsilon(1e-12));
  CHECK(beside.draining.time_s > 0.0);
  s.pipelines.front().parts.front().at = m(200);
  // From the crest every limb goes down only.
  const DrainDown crest = drain_down(s, "W1").value();
  CHECK(crest.draining.drained_m3 <= beside.draining.drained_m3);
}
