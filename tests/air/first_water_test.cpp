#include "runnel/air/first_water.h"

#include <catch2/catch.hpp>
#include <random>

#include "air/line_22.h"
#include "air/random_profile.h"

namespace air = runnel::air;
using namespace runnel::test;

TEST_CASE("first water in a line of shafts, by hand") {
  // Bore 1 m, area pi/4, all vertical or flat lengths: down 10 m, up 4 m to the crest, down 6 m, up 3 m.
  // Yield pi/4 m3/s, so that a metre of pipe is a second.
  const auto profile = air::profile_of({{0, 20}, {0, 10}, {0, 14}, {0, 8}, {0, 11}}, 1.0);
  // A vent at the crest would need stations that differ; without it the pocket of 6 m is loaded by the
  // column: at 11 m u (u + 10 + 11 - 14) = 60, u = (-7 + 17) / 2 = 5: interface 9, gauge 2, level 16.
  const double yield = runnel::pi / 4;
  const auto water = air::first_water(profile, {10.0, 21.0, std::nullopt, {}}, yield);
  REQUIRE(water.size() == 5);
  const auto near = [](double v) { return Approx(v).epsilon(1e-12).margin(1e-12); };
  CHECK(water[1].full_bore_s == near(10.0));
  CHECK(*water[1].earliest_s == near(0.0));
  CHECK(water[2].full_bore_s == near(14.0));
  CHECK(*water[2].earliest_s == near(4.0 + 4.0));  // both arms of the first U up to 14
  CHECK(water[3].full_bore_s == near(20.0));
  CHECK(*water[3].earliest_s == near(8.0));  // trickles down
  CHECK(water[4].full_bore_s == near(23.0));
  CHECK(*water[4].earliest_s == near(6.0 + 4.0 + 1.0 + 3.0));  // first arm to 16, 1 m under the pocket
  // A source at 15.9 m never gets there (16 asked), but does top the crest.
  const auto short_of = air::first_water(profile, {10.0, 15.9, std::nullopt, {}}, yield);
  CHECK(short_of[2].earliest_s);
  CHECK_FALSE(short_of[4].earliest_s);
}

TEST_CASE("earliest is never later than full bore, and neither goes back") {
  std::mt19937 dice(1234);
  for (int i = 0; i < 500; ++i) {
    const auto profile = random_profile(dice);
    const air::StartConditions conditions{10.0, 1000.0, std::nullopt, {}};
    const auto water = air::first_water(profile, conditions, 2e-4);
    for (std::size_t k = 0; k < water.size(); ++k) {
      REQUIRE(water[k].earliest_s);
      REQUIRE(*water[k].earliest_s <= water[k].full_bore_s * (1 + 1e-12) + 1e-9);
      if (k == 0) continue;
      REQUIRE(*water[k].earliest_s >= *water[k - 1].earliest_s - 1e-9);
      REQUIRE(water[k].full_bore_s > water[k - 1].full_bore_s);
    }
  }
}

TEST_CASE("line 22 without vents: water tops the second crest and no more") {
  // Levels by stage 95.4, 100.574, 103.407 against a source at 101.6 (start_up_test.cpp).
  const auto water = air::first_water(air::profile_of(line_22, bore_22_m), conditions_22(), 5e-4);
  CHECK(water[21].earliest_s);
  CHECK(water[28].earliest_s);
  CHECK_FALSE(water[33].earliest_s);
  CHECK_FALSE(water[39].earliest_s);
}
