#include "runnel/air/start_up.h"

#include <catch2/catch.hpp>
#include <random>

#include "air/line_22.h"
#include "air/random_profile.h"

namespace air = runnel::air;
using namespace runnel::test;
using air::StartReason;
using air::StartVerdict;

namespace {
// The reference values are printed to all digits of a double; what is left is rounding over some 40 sums.
Approx near(double value) { return Approx(value).epsilon(0.0).margin(1e-9); }
}  // namespace

namespace {

/// Everything that the file says of one set of vents.
void check_scenario(const air::StartUp& result, const nlohmann::json& wanted) {
  const auto figure = [](const nlohmann::json& of, const char* name) {
    return near(of.at(name).get<double>());
  };
  CHECK(result.required_level_m == figure(wanted, "required_source_head_compressed"));
  CHECK(result.uncompressed_level_m == figure(wanted, "required_source_head_no_compression"));
  CHECK(result.margin_m == figure(wanted, "margin_compressed"));
  CHECK(result.uncompressed_margin_m == figure(wanted, "margin_simple"));
  CHECK((result.margin_m > 0.0) == wanted.at("flows_with_compression").get<bool>());
  CHECK((result.uncompressed_margin_m > 0.0) == wanted.at("flows_simple_worst_case").get<bool>());
  const auto& pockets = wanted.at("pockets");
  REQUIRE(result.pockets.size() == pockets.size());
  for (std::size_t i = 0; i < pockets.size(); ++i) {
    const air::Pocket& pocket = result.pockets[i];
    CHECK(pocket.crest == pockets[i].at("crest").get<int>());
    CHECK(pocket.low == pockets[i].at("low").get<int>());
    CHECK(pocket.vented == pockets[i].at("vented").get<bool>());
    CHECK(pocket.gauge_head_m == figure(pockets[i], "gauge_head"));
    CHECK(pocket.interface_m == figure(pockets[i], "interface"));
    CHECK(pocket.head_at_crest_m == figure(pockets[i], "head_at_crest"));
    if (pocket.vented) continue;
    CHECK(pocket.volume_start_m3 == figure(pockets[i], "V0"));
    CHECK(pocket.volume_loaded_m3 == figure(pockets[i], "V"));
  }
}

/// Starts line 22 with the vents of the file's scenario and holds it to the file.
air::StartUp start_22(std::size_t scenario) {
  const auto& wanted = worked_22.expected.at("scenarios").at(scenario);
  std::vector<double> vents_m;
  for (const auto& vertex : wanted.at("vented_vertices"))
    vents_m.push_back(line_22[vertex.get<std::size_t>()].first);
  air::StartUp result = start_up(air::profile_of(line_22, bore_22_m), conditions_22(vents_m));
  check_scenario(result, wanted);
  return result;
}

}  // namespace

TEST_CASE("line 22 without vents is blocked by two pockets") {
  CHECK(atmospheric_head_22_m == near(worked_22("atmospheric_head")));
  const auto result = start_22(0);
  CHECK(result.verdict == StartVerdict::blocked);
  CHECK(result.reason == StartReason::air);
  REQUIRE(result.pockets.size() == 2);
  // The file lists the stages from the second crest on; the first is the first crest itself.
  const auto& stages =
      worked_22.expected.at("scenarios").at(0).at("required_head_stage_by_stage_water_at_next_crest");
  REQUIRE(stages.size() == 2);
  const auto found = filling_stages(air::profile_of(line_22, bore_22_m), conditions_22());
  REQUIRE(found.size() == 3);
  CHECK(found[0].required_level_m == near(line_22[10].second));
  CHECK(found[1].required_level_m == near(stages[0].get<double>()));
  CHECK(found[2].required_level_m == near(stages[1].get<double>()));
  CHECK(result.governing_stage == 2);
}

TEST_CASE("line 22 vented at its first crest starts") {
  const auto result = start_22(1);
  CHECK(result.verdict == StartVerdict::starts);
  CHECK(result.reason == StartReason::none);
  CHECK(result.pockets[0].vented);
  CHECK(result.pockets[0].gauge_head_m == 0.0);
  CHECK(result.governing_stage == 0);
}

TEST_CASE("line 22 vented at its second crest only is doubtful") {
  const auto result = start_22(2);
  CHECK(result.verdict == StartVerdict::doubtful);
  CHECK(result.reason == StartReason::compression_needed);
  CHECK(result.pockets[1].vented);
  CHECK(result.governing_stage == 1);
}

TEST_CASE("line 22 vented at both crests asks for the first crest alone") {
  const auto result = start_22(3);
  CHECK(result.verdict == StartVerdict::starts);
  CHECK(result.required_level_m == near(line_22[10].second));
  CHECK(result.uncompressed_level_m == near(line_22[10].second));
}

TEST_CASE("line 25, one pocket on one straight leg, is a quadratic") {
  const auto result = start_up(air::profile_of(line_25, worked_25.input("bore")),
                               {atmospheric_head_22_m, worked_25.input("source_level"), std::nullopt, {}});
  CHECK(result.required_level_m == near(worked_25("required_source_head_compressed")));
  CHECK(result.uncompressed_level_m == near(worked_25("required_source_head_no_compression")));
  REQUIRE(result.pockets.size() == 1);
  CHECK(result.pockets[0].interface_m == near(worked_25("interface")));
  CHECK(result.pockets[0].gauge_head_m == near(worked_25("gauge_head")));
  CHECK(result.verdict == StartVerdict::starts);
}

// The same statics can be read from the source down: the pocket gets the gauge head that the source can put
// on it, and the level that is regained is asked for. `regained_levels` is that view. It is the same
// model as `start_up`, which goes from the far crest back: the level regained rises with the
// source and equals the next crest exactly at the required level, so both verdicts are always the same.
// The numbers of a pocket differ away from that threshold, because start_up loads the pocket with just
// what is needed, not with all the source has. The figures are worked by
// hand: h = (crest - low) ha/(ha + p) with p the level less the crest, regained = level - h, to 1e-3 m.
namespace {
struct Algebra {
  std::vector<std::pair<double, double>> points;
  std::vector<double> interface_height_m, regained_m;
  bool passes, passes_uncompressed;
};

void check(const Algebra& c) {
  const auto profile = air::profile_of(c.points, 0.05);
  const air::StartConditions conditions{10.33, 100.0, std::nullopt, {}};
  const auto regained = regained_levels(profile, conditions);
  REQUIRE(regained.size() == c.regained_m.size());
  for (std::size_t i = 0; i < regained.size(); ++i) {
    const auto& pocket = regained[i].pocket;
    CHECK(pocket.crest_elevation_m - pocket.interface_m ==
          Approx(c.interface_height_m[i]).epsilon(0.0).margin(5e-4));
    CHECK(regained[i].level_m == Approx(c.regained_m[i]).epsilon(0.0).margin(5e-4));
  }
  const auto result = start_up(profile, conditions);
  CHECK((result.required_level_m < 100.0) == c.passes);
  CHECK((result.uncompressed_level_m < 100.0) == c.passes_uncompressed);
}
}  // namespace

TEST_CASE("four lines worked by hand from the source down") {
  // Stations do not matter on one straight leg of one bore.
  check({{{0, 99}, {50, 50}, {100, 90}, {150, 60}, {200, 95}}, {15.243}, {84.757}, false, false});  // A
  // B separates the models: 97.439 with compression passes 95, 90 without does not.
  check({{{0, 99}, {50, 50}, {100, 70}, {150, 60}, {200, 95}}, {2.561}, {97.439}, true, false});
  check({{{0, 99}, {50, 50}, {100, 90}, {150, 60}, {200, 80}}, {15.243}, {84.757}, true, false});  // C
  // D: 12.821 m left over the outlet at 72 m. Uncompressed: 20 + 15 lost, 65 regained, below 72.
  check({{{0, 99}, {50, 50}, {100, 80}, {150, 60}, {200, 85}, {250, 70}, {300, 72}},
         {6.812, 8.367},
         {93.188, 84.821},
         true,
         false});
}

TEST_CASE("a crest above the source is blocked for that reason, vents or not") {
  const auto worked = worked_line("20_crest_above_box");
  CHECK(worked("Q_open") == 0.0);
  const auto profile = air::profile_of(worked.points(), worked.input("bore"));
  for (const std::vector<double>& vents : {std::vector<double>{}, std::vector<double>{150.0}}) {
    const auto result = start_up(profile, {atmospheric_head_22_m, 50.8, std::nullopt, vents});
    CHECK(result.verdict == StartVerdict::blocked);
    CHECK(result.reason == StartReason::crest_above_source);
    REQUIRE(result.too_high);
    CHECK(*result.too_high == 1);
    CHECK(result.pockets.empty());
  }
  const auto primed = start_up(profile, {atmospheric_head_22_m, 52.6, std::nullopt, {}});
  CHECK(primed.verdict == StartVerdict::starts);
  CHECK(primed.required_level_m == near(52.5));
}

TEST_CASE("an end above the source is blocked for that reason") {
  const auto profile = air::profile_of({{0.0, 50.0}, {100.0, 40.0}, {200.0, 51.0}}, 0.03);
  CHECK(start_up(profile, {10.0, 50.5, std::nullopt, {}}).reason == StartReason::end_above_source);
  CHECK(start_up(profile, {10.0, 51.0, std::nullopt, {}}).reason == StartReason::end_above_source);
  CHECK(start_up(profile, {10.0, 51.1, std::nullopt, {}}).verdict == StartVerdict::starts);
  const auto falling = air::profile_of({{0.0, 50.0}, {100.0, 40.0}}, 0.03);
  CHECK(start_up(falling, {10.0, 50.5, 50.6, {}}).reason == StartReason::end_above_source);
  CHECK(start_up(falling, {10.0, 50.5, 45.0, {}}).verdict == StartVerdict::starts);
}

TEST_CASE("a drowned end makes a pocket of the last descent") {
  // One straight leg from 12 to 4 m under water standing at 10 m: line 25 with its rise cut off, so its
  // interface and level must come out again.
  const auto profile = air::profile_of({{0, 20}, {50, 5}, {100, 12}, {160, 4}}, 0.03);
  const auto drowned = start_up(profile, {atmospheric_head_22_m, 20.5, 10.0, {}});
  REQUIRE(drowned.pockets.size() == 1);
  CHECK(drowned.required_level_m == near(worked_25("required_source_head_compressed")));
  CHECK(drowned.pockets[0].interface_m == near(worked_25("interface")));
  const auto free = start_up(profile, {atmospheric_head_22_m, 20.5, std::nullopt, {}});
  CHECK(free.pockets.empty());
  CHECK(free.required_level_m == near(12.0));
  const auto below = start_up(profile, {atmospheric_head_22_m, 20.5, 3.9, {}});
  CHECK(below.pockets.empty());
  CHECK(below.required_level_m == near(12.0));
}

TEST_CASE("a vent part-way down a descent shuts in only the air above it") {
  // Leg from 12 to 4 m, vent at 9 m: below a column of 10 m the 3 m above the vent are compressed:
  // u (u + ha + 10 - 12) = 3 ha, required 12 + 10 - (12 - u) = 10 + u (as in line 25).
  const double ha = atmospheric_head_22_m;
  const double b = ha - 2.0;
  const double u = 0.5 * (-b + std::sqrt(b * b + 4.0 * 3.0 * ha));
  const auto result = start_up(air::profile_of(line_25, 0.03), {ha, 20.5, std::nullopt, {122.5}});
  CHECK_FALSE(result.pockets[0].vented);
  CHECK(result.required_level_m == near(10.0 + u));
  CHECK(result.uncompressed_level_m == near(13.0));
  // At 11 m the column of 10 m never closes it.
  const auto high = start_up(air::profile_of(line_25, 0.03), {ha, 20.5, std::nullopt, {107.5}});
  CHECK(high.required_level_m == near(12.0));
  // A vent on the rise before the crest does nothing, unless it is within a bore of the crest.
  CHECK(start_up(air::profile_of(line_25, 0.03), {ha, 20.5, std::nullopt, {90.0}}).required_level_m ==
        near(15.83561462146374));
  CHECK(start_up(air::profile_of(line_25, 0.03), {ha, 20.5, std::nullopt, {99.9}}).required_level_m ==
        near(12.0));
}

TEST_CASE("a vent further than a bore below the crest, before it, does nothing") {
  // At 99 m the line stands 0.14 m below the crest, the bore is 0.03 m.
  const air::StartConditions conditions{atmospheric_head_22_m, 20.5, std::nullopt, {99.0}};
  CHECK(start_up(air::profile_of(line_25, 0.03), conditions).required_level_m == near(15.83561462146374));
}

TEST_CASE("a vented crest lower than the next asks for the next") {
  const auto profile = air::profile_of({{0, 30}, {50, 5}, {100, 12}, {160, 4}, {220, 20}}, 0.03);
  const auto result = start_up(profile, {10.0, 25.0, std::nullopt, {100.0}});
  CHECK(result.required_level_m == near(20.0));
  CHECK(result.uncompressed_level_m == near(20.0));
  CHECK(result.pockets[0].interface_m == near(12.0));
  CHECK(result.governing_stage == 1);
}

TEST_CASE("a source level with a crest, or below the start of its own pipe, is blocked plainly") {
  const auto over = air::profile_of({{0.0, 50.0}, {150.0, 52.5}, {500.0, 35.0}}, 0.0326);
  CHECK(start_up(over, {10.0, 52.5, std::nullopt, {}}).reason == StartReason::crest_above_source);
  auto low = conditions_22({499.0, 1049.0});
  low.source_level_m = 99.9;  // asks for 95.4 only, but the pipe begins at 100
  const auto result = start_up(air::profile_of(line_22, bore_22_m), low);
  CHECK(result.verdict == StartVerdict::blocked);
  CHECK(result.reason == StartReason::crest_above_source);
  CHECK(result.too_high == 0);
}

TEST_CASE("a last rise that sags by less than the bore still has to be topped") {
  const auto profile = air::profile_of({{0, 30}, {50, 5}, {100, 12}, {110, 11.98}}, 0.03);
  CHECK(start_up(profile, {10.0, 25.0, std::nullopt, {}}).required_level_m == near(12.0));
}

TEST_CASE("a flat piece in a descent may hold the surface of the air") {
  // 12 m down to 8, flat 200 m, down to 4; the column of 10 m. The flat holds most of the air: the surface
  // stays on it and the gauge head is 10 - 8 = 2 m exactly, so 14 m are required.
  const auto profile =
      air::profile_of({{0, 20}, {50, 5}, {100, 12}, {130, 8}, {330, 8}, {360, 4}, {420, 10}}, 0.03);
  const auto result = start_up(profile, {10.0, 20.5, std::nullopt, {}});
  CHECK(result.pockets[0].interface_m == near(8.0));
  CHECK(result.required_level_m == near(14.0));
  CHECK(12.0 * result.pockets[0].volume_loaded_m3 == near(10.0 * result.pockets[0].volume_start_m3));
}

namespace {

/// Second method, sharing nothing but the profile: crests and lows by neighbours, and from an assumed
/// gauge head in the first pocket forward to the column it takes at the end.
struct Shooter {
  const air::Profile& profile;
  double ha;
  std::vector<std::pair<std::size_t, std::size_t>> legs;
  double end_column_m = 0.0;

  Shooter(const air::Profile& p, double head_m) : profile(p), ha(head_m) {
    const auto& z = p.points;
    std::size_t crest = 0;  // 0: none; the start is no crest
    for (std::size_t i = 1; i + 1 < z.size(); ++i) {
      if (z[i].elevation_m > z[i - 1].elevation_m && z[i].elevation_m > z[i + 1].elevation_m) crest = i;
      if (z[i].elevation_m < z[i - 1].elevation_m && z[i].elevation_m < z[i + 1].elevation_m && crest > 0) {
        legs.emplace_back(crest, i);
        crest = 0;
      }
    }
    end_column_m = crest > 0 ? z[crest].elevation_m : z.back().elevation_m;
  }

  /// Level down to which the leg holds a share of its volume, counted from the crest.
  double level_m(std::pair<std::size_t, std::size_t> leg, double share) const {
    const auto& z = profile.points;
    const auto volume = [&](std::size_t i) {
      return z[i].bore_m * z[i].bore_m *
             std::hypot(z[i + 1].station_m - z[i].station_m, z[i + 1].elevation_m - z[i].elevation_m);
    };
    double whole = 0.0;
    for (std::size_t i = leg.first; i < leg.second; ++i) whole += volume(i);
    double left = share * whole;
    for (std::size_t i = leg.first; i < leg.second; ++i) {
      if (left <= volume(i))
        return z[i].elevation_m + (z[i + 1].elevation_m - z[i].elevation_m) * left / volume(i);
      left -= volume(i);
    }
    return z[leg.second].elevation_m;
  }

  double column_at_end_m(double first_gauge_m) const {
    double gauge = first_gauge_m, column = 0.0;
    for (std::size_t k = 0; k < legs.size(); ++k) {
      if (k > 0) gauge = column - profile.points[legs[k].first].elevation_m;
      if (gauge <= 0.0) return -1e9;
      column = gauge + level_m(legs[k], ha / (ha + gauge));
    }
    return column;
  }

  double required_m() const {
    if (legs.empty()) return end_column_m;
    double low = 0.0, high = 1e3;
    for (int i = 0; i < 200; ++i) {
      const double middle = 0.5 * (low + high);
      (column_at_end_m(middle) < end_column_m ? low : high) = middle;
    }
    return profile.points[legs.front().first].elevation_m + 0.5 * (low + high);
  }
};

}  // namespace

TEST_CASE("forward shooting agrees on 10,000 random lines") {
  std::mt19937 dice(220731);  // any number; the lines are invented
  double worst_m = 0.0;
  int with_pockets = 0;
  for (int i = 0; i < 10000; ++i) {
    const auto profile = random_profile(dice);
    const double ha = std::uniform_real_distribution<double>(5.0, 10.5)(dice);
    const auto result = start_up(profile, {ha, 200.0, std::nullopt, {}});
    const Shooter shooter(profile, ha);
    REQUIRE(shooter.legs.size() == result.pockets.size());
    with_pockets += result.pockets.empty() ? 0 : 1;
    worst_m = std::max(worst_m, std::abs(result.required_level_m - shooter.required_m()));
    for (const auto& pocket : result.pockets) {  // Boyle, and the column of the next pocket
      const double product = (ha + pocket.gauge_head_m) * pocket.volume_loaded_m3;
      REQUIRE(product == Approx(ha * pocket.volume_start_m3).epsilon(1e-10));
    }
  }
  CHECK(with_pockets > 5000);
  CHECK(worst_m < 1e-9);
}

TEST_CASE("laws that hold for every line") {
  std::mt19937 dice(41172);
  for (int i = 0; i < 3000; ++i) {
    const auto profile = random_profile(dice);
    const double ha = std::uniform_real_distribution<double>(5.0, 10.5)(dice);
    air::StartConditions conditions{ha, 150.0, std::nullopt, {}};
    if (i % 3 == 0) conditions.end_level_m = profile.points.back().elevation_m + 2.0;
    const auto base = start_up(profile, conditions);

    const auto stages = filling_stages(profile, conditions);
    for (std::size_t k = 1; k < stages.size(); ++k) {  // never falls from stage to stage
      REQUIRE(stages[k].required_level_m >= stages[k - 1].required_level_m);
      REQUIRE(stages[k].uncompressed_level_m >= stages[k - 1].uncompressed_level_m);
    }
    // The last is what start_up works out alone, and no stage before the governing one asks for as much.
    REQUIRE(stages.back().required_level_m == near(base.required_level_m));
    REQUIRE(stages.back().uncompressed_level_m == near(base.uncompressed_level_m));
    const auto governing = static_cast<std::size_t>(base.governing_stage);
    REQUIRE(stages[governing].required_level_m == near(base.required_level_m));
    if (governing > 0) REQUIRE(stages[governing - 1].required_level_m < base.required_level_m);
    REQUIRE(base.uncompressed_level_m >= base.required_level_m - 1e-12);

    const auto finer = start_up(surveyed_finer(profile, dice), conditions);
    REQUIRE(finer.required_level_m == near(base.required_level_m));
    REQUIRE(filling_stages(surveyed_finer(profile, dice), conditions).size() == stages.size());
    REQUIRE(finer.pockets.size() == base.pockets.size());

    auto shifted = conditions;  // the datum is nobody's business
    shifted.source_level_m += 731.5;
    if (shifted.end_level_m) *shifted.end_level_m += 731.5;
    const auto high = start_up(lifted(profile, 731.5), shifted);
    REQUIRE(high.required_level_m - 731.5 == near(base.required_level_m));
    REQUIRE(high.verdict == base.verdict);

    auto vented = conditions;  // more vents never ask for more
    double asked_m = base.required_level_m, uncompressed_m = base.uncompressed_level_m;
    for (int vent = 0; vent < 4; ++vent) {
      vented.vents_m.push_back(
          std::uniform_real_distribution<double>(0.0, profile.points.back().station_m)(dice));
      if (!base.pockets.empty() && vent % 2 == 1)
        vented.vents_m.back() = base.pockets[dice() % base.pockets.size()].crest_station_m;
      const auto after = start_up(profile, vented);
      REQUIRE(after.required_level_m <= asked_m + 1e-9);
      REQUIRE(after.uncompressed_level_m <= uncompressed_m + 1e-9);
      asked_m = after.required_level_m;
      uncompressed_m = after.uncompressed_level_m;
    }

    // Both views turn at the same source level.
    for (double off_m : {-1e-6, 1e-6}) {
      auto at = conditions;
      at.source_level_m = base.required_level_m + off_m;
      const auto regained = regained_levels(profile, at);
      const double end_m = conditions.end_level_m.value_or(stages.back().elevation_m);
      const bool all = regained.size() == base.pockets.size();
      const double level_m = regained.empty() ? at.source_level_m : regained.back().level_m;
      if (!base.pockets.empty()) REQUIRE((all && level_m > end_m) == (off_m > 0.0));
    }
  }
}

TEST_CASE("thin air compresses more, so altitude lowers the level asked for") {
  const auto profile = air::profile_of(line_22, bore_22_m);
  auto high = conditions_22();
  high.atmospheric_head_m = 7.149;  // 3000 m: 70108.5 Pa [us-standard-atmosphere-1976] over 9806.65 N/m3
  CHECK(start_up(profile, high).required_level_m < start_up(profile, conditions_22()).required_level_m);
}
