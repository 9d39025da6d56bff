#include "runnel/air/first_water.h"

#include <catch2/catch.hpp>
#include <random>

#include "air/line_22.h"
#include "air/random_profile.h"
#include "air/slow_front.h"
#include "runnel/base/constants.h"
#include "runnel/losses/friction.h"
#include "steady/small_systems.h"
#include "support/rooms.h"

namespace air = runnel::air;
using namespace runnel;
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

TEST_CASE("the front moves as a fine quasi-steady integration has it") {
  // A steep line that takes all, long gentle ones that do not, one with a crest, one with a pocket behind it.
  const std::vector<Dry> lines = {
      {{{0, 100}, {300, 60}}, 100.5, 3e-4, 0.03},
      {{{0, 100}, {2000, 96}}, 100.5, 2e-3, 0.03},
      {{{0, 100}, {500, 90}, {1500, 97}, {1900, 80}}, 100.5, 1e-3, 0.026},
      {{{0, 100}, {400, 88}, {700, 93}, {900, 87}, {1300, 91}}, 101.0, 2e-3, 0.026},
  };
  int held_back = 0;
  for (const Dry& dry : lines) {
    CAPTURE(dry.points.size(), dry.yield_m3s);
    const network::System system = support::resolved(dry.model());
    const auto ways = air::ways_of(system, 1);
    const air::WetPart wet(system, ways.at(0), dry.yield_m3s);
    const double end_m = wet.length_to_m(static_cast<int>(dry.points.size()) - 1);
    const SlowFront slow(dry, system);
    air::WetPart::Front front = wet.start();
    const double found_s = wet.advance(front, end_m);
    CHECK(found_s == Approx(slow.seconds(4000)).epsilon(0.01));
    CHECK(wet.rate_m3s(0.7 * end_m) == Approx(slow.rate_m3s(0.7 * end_m)).epsilon(1e-3));
    // Never less than the bore over what it can take at most.
    CHECK(found_s >= wet.volume_m3(end_m) / wet.rate_m3s(0.0) * (1.0 - 1e-12));
    if (!wet.takes_all()) ++held_back;
    double before = wet.rate_m3s(0.0);
    for (int k = 1; k <= 50; ++k) {  // it never rises on the way
      const double here = wet.rate_m3s(end_m * k / 50);
      CHECK(here <= before * (1.0 + 1e-9));
      before = here;
    }
    const auto arrived = air::first_water(ways[0].profile, ways[0].conditions, dry.yield_m3s,
                                          {static_cast<int>(dry.points.size()) - 1}, &wet);
    REQUIRE(arrived.size() == 1);
    CHECK(arrived[0].full_bore_s == Approx(found_s).epsilon(5e-3));  // by stretches, each to two thousandths
    REQUIRE(arrived[0].earliest_s);
    CHECK(*arrived[0].earliest_s <= arrived[0].full_bore_s * (1.0 + 1e-9));
  }
  CHECK(held_back >= 3);
}

TEST_CASE("random lines fill no sooner than all that is given fills them, and as a fine integration has it") {
  std::mt19937_64 dice(88);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution<>(a, b)(dice); };
  int compared = 0, held_back = 0;
  for (int i = 0; i < 120; ++i) {
    CAPTURE(i);
    Dry dry{{{0.0, 100.0}}, between(100.2, 102.0), std::pow(10.0, between(-4.0, -2.7)), between(0.02, 0.04)};
    const int crests = static_cast<int>(between(0.0, 3.0));
    const auto go = [&](double rise_m) {
      const auto [x, z] = dry.points.back();
      dry.points.push_back({x + between(100.0, 500.0), std::min(z + rise_m, dry.lip_m - 0.3)});
    };
    for (int c = 0; c < crests; ++c) go(-between(2.0, 12.0)), go(between(1.0, 6.0));
    go(-between(1.0, 30.0));
    const network::System system = support::resolved(dry.model());
    const auto ways = air::ways_of(system, 1);
    if (ways.at(0).start.verdict == air::StartVerdict::blocked) continue;
    const air::WetPart wet(system, ways[0], dry.yield_m3s);
    const int end = static_cast<int>(ways[0].profile.points.size()) - 1;
    const auto found =
        air::first_water(ways[0].profile, ways[0].conditions, dry.yield_m3s, {end}, &wet).at(0);
    const double bore_m3 = wet.volume_m3(wet.length_to_m(end));
    const double slowest_m3s = wet.rate_m3s(wet.length_to_m(end));
    REQUIRE(found.earliest_s);
    CHECK(*found.earliest_s <= found.full_bore_s * (1.0 + 1e-9));
    // The greatest rate is all that the spring gives; the least that at the very end.
    CHECK(found.full_bore_s >= bore_m3 / dry.yield_m3s * (1.0 - 1e-9));
    CHECK(found.full_bore_s <= bore_m3 / slowest_m3s * (1.0 + 1e-9));
    held_back += !wet.takes_all();
    if (i % 4 != 0) continue;
    CHECK(found.full_bore_s == Approx(SlowFront(dry, system).seconds(800)).epsilon(0.01));
    ++compared;
  }
  CHECK(compared > 10);
  CHECK(held_back > 20);
}
