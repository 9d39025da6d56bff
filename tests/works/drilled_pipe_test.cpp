#include "runnel/works/drilled_pipe.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"

using namespace runnel;
using namespace runnel::works;

namespace {

DrilledPipe pipe() {
  return {Length::millimetres(100), Length::metres(4), 40.0, Length::millimetres(6), 0.5, 0.62};
}

}  // namespace

TEST_CASE("a drilled pipe takes in what its open holes do") {
  const Intake intake = intake_of(pipe(), Length::metres(0.1));
  // 80 open holes of 28.274 mm2; 0.62 A sqrt(2 g 0.1): worked by hand.
  CHECK(intake.open_area_m2 == Approx(80 * 28.27433e-6).epsilon(1e-6));
  CHECK(intake.area_ratio == Approx(0.288).epsilon(1e-12));
  CHECK(intake.capacity.litres_per_second() == Approx(1.96402).epsilon(1e-5));
  CHECK(intake_of(pipe(), Length::metres(-0.1)).capacity.si() == 0.0);
}

TEST_CASE("the head that holes take is the capacity turned over") {
  for (const double head_m : {0.001, 0.05, 0.8}) {
    const Flow flow = intake_of(pipe(), Length::metres(head_m)).capacity;
    CHECK(head_of_holes(pipe(), flow)->metres() == Approx(head_m).epsilon(1e-12));
  }
  CHECK(entrance_velocity(pipe(), Flow::litres_per_second(0.2))->metres_per_second() ==
        Approx(0.2e-3 / (80 * 28.27433e-6)).epsilon(1e-6));
  DrilledPipe shut = pipe();
  shut.open_share = 0.0;
  CHECK_FALSE(head_of_holes(shut, Flow::litres_per_second(0.2)));
  CHECK_FALSE(entrance_velocity(shut, Flow::litres_per_second(0.2)));
}

TEST_CASE("a riser takes in row by row") {
  const std::vector<losses::HoleRow> rows = {{0.1, 0.012, 4}, {0.3, 0.012, 4}};
  const double low = riser_intake(rows, Length::metres(0.2), 1.0).si();
  const double high = riser_intake(rows, Length::metres(0.4), 1.0).si();
  // Covered by many radii a hole is an orifice to (r/h)^2/32, 1e-4 here.
  CHECK(low == Approx(4 * losses::orifice_flow(0.1, 0.012, 0.62).flow_m3s).epsilon(2e-4));
  CHECK(high == Approx(4 * (losses::orifice_flow(0.3, 0.012, 0.62).flow_m3s +
                            losses::orifice_flow(0.1, 0.012, 0.62).flow_m3s))
                    .epsilon(2e-4));
  CHECK(riser_intake(rows, Length::metres(0.4), 0.5).si() == Approx(0.5 * high).epsilon(1e-14));
  CHECK(riser_intake(rows, Length::metres(0.05), 1.0).si() == 0.0);
}
