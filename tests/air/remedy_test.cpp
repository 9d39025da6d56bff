#include "runnel/air/remedy.h"

#include <catch2/catch.hpp>
#include <random>

#include "air/line_22.h"
#include "air/random_profile.h"

namespace air = runnel::air;
using namespace runnel::test;
using air::StartVerdict;

TEST_CASE("of the two crests of line 22 the first is the one to vent") {
  const auto& levels = worked_22.expected.at("scenarios");  // unvented, vented at vertex 10, at vertex 21
  const auto level = [&](int scenario, const char* which) {
    return levels.at(scenario).at(which).get<double>();
  };
  const char* const asked = "required_source_head_compressed";
  const char* const uncompressed = "required_source_head_no_compression";
  const auto advice = vent_advice(air::profile_of(line_22, bore_22_m), conditions_22());
  REQUIRE(advice.single.size() == 2);
  REQUIRE(advice.best);
  CHECK(advice.single[*advice.best].crest == 10);
  const auto near = [](double v) { return Approx(v).epsilon(0.0).margin(1e-9); };  // as start_up_test
  CHECK(advice.single[0].after.required_level_m == near(level(1, asked)));
  CHECK(advice.single[0].gain_m == near(level(0, asked) - level(1, asked)));
  CHECK(advice.single[1].after.required_level_m == near(level(2, asked)));
  CHECK(advice.single[1].uncompressed_gain_m == near(level(0, uncompressed) - level(2, uncompressed)));
  CHECK(vent_advice(air::profile_of(line_22, bore_22_m), conditions_22({499, 1049})).single.empty());
}

TEST_CASE("one vent is enough for line 22, and a crest above the source is past venting") {
  const auto profile = air::profile_of(line_22, bore_22_m);
  const auto plan = vents_until(profile, conditions_22(), StartVerdict::starts);
  REQUIRE(plan);
  CHECK(plan->crests == std::vector<int>{10});
  CHECK(plan->after.verdict == StartVerdict::starts);
  CHECK(vents_until(profile, conditions_22({499}), StartVerdict::starts)->crests.empty());
  auto low = conditions_22();
  low.source_level_m = 95.0;
  CHECK_FALSE(vents_until(profile, low, StartVerdict::doubtful));
}

TEST_CASE("where one vent is enough, one is advised, and every plan works") {
  std::mt19937 dice(3113);
  int plans = 0;
  for (int i = 0; i < 1000; ++i) {
    const auto profile = random_profile(dice);
    air::StartConditions conditions{10.0, 0.0, std::nullopt, {}};
    const auto level = start_up(profile, conditions);
    const double share = std::uniform_real_distribution<double>(0.3, 1.0)(dice);
    double highest_m = 0.0;
    for (const auto& p : profile.points) highest_m = std::max(highest_m, p.elevation_m);
    conditions.source_level_m = highest_m + share * std::max(0.1, level.uncompressed_level_m - highest_m);
    for (StartVerdict wanted : {StartVerdict::doubtful, StartVerdict::starts}) {
      const auto plan = vents_until(profile, conditions, wanted);
      REQUIRE(plan);  // no crest stands above the source, so venting them all is enough
      auto with = conditions;
      for (int crest : plan->crests)
        with.vents_m.push_back(profile.points[static_cast<std::size_t>(crest)].station_m);
      REQUIRE(start_up(profile, with).verdict <= wanted);
      for (const auto& single : vent_advice(profile, conditions).single)
        if (single.after.verdict <= wanted) REQUIRE(plan->crests.size() <= 1);
      plans += plan->crests.empty() ? 0 : 1;
    }
  }
  CHECK(plans > 300);
}

TEST_CASE("a crest dug down leaves a level trench and nothing else changed") {
  const auto profile = air::profile_of({{0, 20}, {50, 5}, {100, 12}, {160, 4}, {220, 10}}, 0.03);
  const auto dug = air::dug_down(profile, 2, 2.0);
  // Floor at 10: the rise 5 to 12 over 50 m crosses it 14.2857 m before the crest, the fall 12 to 4 over
  // 60 m 15 m after it.
  REQUIRE(dug.points.size() == 7);
  CHECK(dug.points[2].station_m == Approx(100 - 50.0 * 2 / 7).epsilon(1e-12));
  CHECK(dug.points[2].elevation_m == 10.0);
  CHECK(dug.points[3].elevation_m == 10.0);
  CHECK(dug.points[4].station_m == Approx(115.0).epsilon(1e-12));
  CHECK(dug.points[6].elevation_m == 10.0);
  // Leg left: 10 down to 4 under a column of 10: u (u + ha) = 6 ha, required 10 + u (as in line 25).
  const double ha = atmospheric_head_22_m;
  const double u = 0.5 * (-ha + std::sqrt(ha * ha + 24.0 * ha));
  const auto after = start_up(dug, {ha, 20.5, std::nullopt, {}});
  CHECK(after.required_level_m == Approx(10.0 + u).epsilon(0.0).margin(1e-9));
}

TEST_CASE("how far to dig is a depth that works, and a little less does not") {
  std::mt19937 dice(7007);
  int found = 0;
  for (int i = 0; i < 400; ++i) {
    const auto profile = random_profile(dice);
    air::StartConditions conditions{10.0, 0.0, std::nullopt, {}};
    const auto level = start_up(profile, conditions);
    double highest_m = 0.0;
    for (const auto& p : profile.points) highest_m = std::max(highest_m, p.elevation_m);
    conditions.source_level_m = std::max(level.required_level_m - 1.0, highest_m + 0.01);
    for (StartVerdict wanted : {StartVerdict::doubtful, StartVerdict::starts}) {
      const auto dig = best_dig(profile, conditions, wanted);
      if (!dig || dig->depth_m == 0.0) continue;
      ++found;
      const auto at = start_up(air::dug_down(profile, dig->crest, dig->depth_m), conditions);
      REQUIRE(at.verdict <= wanted);
      REQUIRE(at.required_level_m == dig->after.required_level_m);
      const auto less = start_up(air::dug_down(profile, dig->crest, dig->depth_m - 1.01e-3), conditions);
      if (dig->depth_m > 2e-3) REQUIRE(less.verdict > wanted);
    }
  }
  CHECK(found > 50);
}

TEST_CASE("line 22 can be dug: the answer is tried, not guessed") {
  const auto profile = air::profile_of(line_22, bore_22_m);
  const auto dig = dig_until(profile, conditions_22(), 10, StartVerdict::doubtful);
  REQUIRE(dig);
  CHECK(dig->station_m == 499.0);
  CHECK(dig->after.required_level_m < 101.6);
  // It asked for 1.8066 m too much; digging the crest takes more than it lowers only if the air did not
  // give way, so the depth lies between those two.
  CHECK(dig->depth_m > 0.5 * 1.8066);
  CHECK(dig->depth_m < 95.4 - 84.2);
  CHECK(dig_until(profile, conditions_22({499}), 10, StartVerdict::starts)->depth_m == 0.0);
}

TEST_CASE("what one more vent does is what the whole start works out with that vent") {
  std::mt19937 dice(20231);
  int vents = 0;
  for (int i = 0; i < 1000; ++i) {
    CAPTURE(i);
    const auto profile = random_profile(dice);
    air::StartConditions conditions{10.0, 150.0, std::nullopt, {}};
    if (i % 3 == 0) conditions.end_level_m = profile.points.back().elevation_m + 2.0;
    conditions.end_stands = false;
    const auto before = start_up(profile, conditions);
    for (const auto& effect : vent_advice(profile, conditions).single) {
      auto with = conditions;
      with.vents_m.push_back(effect.station_m);
      const auto after = start_up(profile, with);
      // The sums of falls are taken in another order.
      const auto near = [](double v) { return Approx(v).epsilon(0.0).margin(1e-9); };
      REQUIRE(effect.after.required_level_m == near(after.required_level_m));
      REQUIRE(effect.after.uncompressed_level_m == near(after.uncompressed_level_m));
      REQUIRE(effect.after.verdict == after.verdict);
      REQUIRE(effect.gain_m == near(before.required_level_m - after.required_level_m));
      ++vents;
    }
  }
  CHECK(vents > 1000);
}

namespace {

/// Of a crest over the higher of the low points, or ends, beside it.
double deepest_m(const air::Profile& profile, int crest) {
  const auto z = [&](int i) { return profile.points[static_cast<std::size_t>(i)].elevation_m; };
  int before = 0, after = static_cast<int>(profile.points.size()) - 1;
  for (const auto& turn : turns(profile)) {
    if (!turn.crest && turn.point < crest) before = turn.point;
    if (!turn.crest && turn.point > crest) after = std::min(after, turn.point);
  }
  return z(crest) - std::max(z(before), z(after));
}

}  // namespace

TEST_CASE("a trench that is said not to be enough is not") {
  std::mt19937 dice(417);
  int ruled_out = 0;
  for (int i = 0; i < 1000; ++i) {
    CAPTURE(i);
    const auto profile = random_profile(dice);
    air::StartConditions conditions{10.0, 0.0, std::nullopt, {}};
    conditions.source_level_m = start_up(profile, conditions).uncompressed_level_m -
                                std::uniform_real_distribution<double>(0.1, 20.0)(dice);
    const auto before = start_up(profile, conditions);
    for (const auto& turn : turns(profile)) {
      if (!turn.crest || turn.point == turns(profile).front().point) continue;  // the first may lie open then
      for (const double depth_m : {0.5, 2.0, 8.0}) {
        if (depth_m > deepest_m(profile, turn.point))
          break;  // beyond that the low point beside it is dug too
        if (dig_could_start(profile, before, depth_m)) continue;
        ++ruled_out;
        REQUIRE(start_up(air::dug_down(profile, turn.point, depth_m), conditions).verdict !=
                StartVerdict::starts);
      }
    }
  }
  CHECK(ruled_out > 1000);
}

TEST_CASE("a line of hundreds of high points is advised on as a short one is") {
  // 300 falls of 2.5 m and rises of 2 m after a source 0.6 m over the start: every fall counts against it.
  std::vector<std::pair<double, double>> line = {{0, 1000}};
  const auto go = [&](double up_m) {
    line.emplace_back(line.back().first + 20.0, line.back().second + up_m);
  };
  for (int i = 0; i < 300; ++i) go(-2.5), go(2.0);
  go(-20.0);
  const auto profile = air::profile_of(line, 0.05);
  const air::StartConditions conditions{10.0, 1000.6, std::nullopt, {}};
  const auto before = start_up(profile, conditions);
  CHECK(before.verdict == StartVerdict::blocked);
  CHECK(before.pockets.size() == 299);
  // Uncompressed: the last crest and all the falls between crest and low before it.
  CHECK(before.uncompressed_level_m == Approx(1000.0 - 300 * 0.5 + 299 * 2.5).epsilon(1e-12));
  CHECK(vent_advice(profile, conditions).single.size() == 299);
  const auto plan = vents_until(profile, conditions, StartVerdict::starts);
  REQUIRE(plan);
  CHECK(plan->after.verdict == StartVerdict::starts);
  CHECK_FALSE(best_dig(profile, conditions, StartVerdict::starts));
}
