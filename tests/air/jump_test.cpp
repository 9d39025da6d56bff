#include "runnel/air/jump.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "air/air_systems.h"

namespace air = runnel::air;
namespace test = runnel::test;

TEST_CASE("a jump stands where the grade line meets the pipe") {
  // 0.3 L/s down 40 mm from 100 over 400 m to 60, then up over 200 m to a free end at 70.
  const double flow = 3e-4, bore = 0.04, c = 150.0;
  const auto s = test::crest_line({{0, 100}, {400, 60}, {600, 70}}, bore, flow);
  const auto state = runnel::steady::solve(s);
  const auto found = air::jumps(state.lines[0]);
  REQUIRE(found.size() == 1);
  // By hand, Hazen-Williams loss per metre j: the grade rises back from the end, 70 + j * 200.25 at the low
  // point, and meets the pipe 100 - 0.1 x where 70 + j (200.25 + (400 - x) 1.00499) = 100 - 0.1 x.
  const double j = 10.67 * std::pow(flow, 1.852) / (std::pow(c, 1.852) * std::pow(bore, 4.8704));
  const double up = std::hypot(200.0, 10.0), per = std::hypot(400.0, 40.0) / 400.0;
  const double x = (30.0 - j * (up + 400.0 * per)) / (0.1 - j * per);
  CHECK(found[0].station_m == Approx(x).epsilon(1e-6));  // friction is the same formula
  CHECK(found[0].fills_pipe);
  // Froude number again from the depth, with the segment worked out here: V / sqrt(g A / T).
  const double theta = 2.0 * std::acos(1.0 - 2.0 * found[0].depth_m / bore);
  const double area = bore * bore / 8.0 * (theta - std::sin(theta)), top = bore * std::sin(0.5 * theta);
  CHECK(found[0].froude == Approx(flow / area / std::sqrt(9.80665 * area / top)).epsilon(1e-9));
  CHECK(found[0].froude > 1.0);
  CHECK(found[0].air_share == Approx(0.0066 * std::pow(found[0].froude - 1.0, 1.4)).epsilon(1e-12));
}

TEST_CASE("no jump in a full line, nor before slow water comes out part-full") {
  const auto full = test::crest_line({{0, 100}, {500, 95}}, 0.03);
  CHECK(air::jumps(runnel::steady::solve(full).lines[0]).empty());
  runnel::steady::LineState run;
  run.flow_m3s = 1e-4;
  runnel::steady::Reach swift{0, 10}, slow{10, 20};
  swift.state = slow.state = runnel::steady::ReachState::part_full;
  swift.normal_depth_m = 0.01, swift.froude = 3.0;
  slow.normal_depth_m = 0.03, slow.froude = 0.4;
  run.reaches = {swift, slow};
  const auto found = air::jumps(run);
  REQUIRE(found.size() == 1);  // at the break of grade, and the pipe stays part-full
  CHECK(found[0].station_m == 10.0);
  CHECK_FALSE(found[0].fills_pipe);
  CHECK(found[0].after_depth_m == 0.03);
  run.flow_m3s = -1e-4;  // the water comes from the slow side
  CHECK(air::jumps(run).empty());
  run.flow_m3s = 1e-4;
  run.reaches[0].near_full = true;  // the depth is not claimed, so no jump is
  CHECK(air::jumps(run).empty());
}

TEST_CASE("water that comes out part-full meets a full pipe with a jump only if it is swift") {
  runnel::steady::LineState run;
  run.flow_m3s = 1e-4;
  runnel::steady::Reach part{0, 10}, full{10, 20};
  part.state = runnel::steady::ReachState::part_full;
  part.normal_depth_m = 0.01, part.froude = 3.0;
  run.reaches = {part, full};
  REQUIRE(air::jumps(run).size() == 1);
  CHECK(air::jumps(run)[0].station_m == 10.0);
  CHECK(air::jumps(run)[0].fills_pipe);
  run.reaches[0].froude = 0.9;
  CHECK(air::jumps(run).empty());
}
