// A system that runs with its start-up air in it: worked lines, trees, and what must not change.
#include "runnel/air/at_first.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

#include "air/air_systems.h"
#include "runnel/air/check_at_first.h"
#include "runnel/air/clearing.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/pocket_law.h"
#include "steady/plain_network.h"

using namespace runnel;
using nlohmann::json;

namespace {

const std::vector<std::string> tables = {"two_pockets", "one_pocket_high", "margin_thin"};
constexpr int trees = 1000;
constexpr double digits = 1e-6;  // relative; the tables were bisected to rounding

json table(const std::string& name) {
  std::ifstream in(std::string(RUNNEL_SOURCE_DIR) + "/tests/data/states/" + name + ".json");
  return json::parse(in);
}

/// The table's line as a system: a box that spills at the table's level, and an open end.
network::Model model_of(const json& in) {
  network::Model s = small::empty();
  s.site.water.kinematic_viscosity_m2s = in["kinematic_viscosity_m2s"];
  s.site.water.density_kgm3 = in["density_kgm3"];
  s.site.altitude = Length::metres(in["altitude_m"].get<double>());
  s.site.air_pressure_pa = in["atmospheric_head_m"].get<double>() * s.site.specific_weight_nm3();
  std::vector<std::pair<double, double>> survey;
  for (const auto& p : in["points"]) survey.emplace_back(p[0], p[1]);
  small::box(s, "spring", 1e-2, survey.front().second, in["box_level_m"]);
  small::outlet(s, "trough", survey.back().second);
  network::Pipeline& line = small::line(s, "main", "spring", "trough", in["bore_m"], survey);
  line.entrance_loss = in["entrance_loss"];
  line.pipes[0].pipe.roughness = Length::metres(in["roughness_m"].get<double>());
  return s;
}

std::optional<air::AtFirst> at_first(const network::System& system) {
  return air::at_first(system, air::ways_of(system, 400));
}

/// A spring over a tree of lines that rise and fall, with free ends, tanks and draws.
network::Model random_tree(std::uint64_t seed) {
  plain::Dice dice(seed);
  network::Model s = small::empty();
  const double top_m = dice.real(40.0, 70.0);
  small::box(s, "spring", std::pow(10.0, dice.real(-4.0, -2.0)), top_m, top_m + dice.real(0.3, 2.0));
  const int joints = dice.whole(1, 4);
  for (int j = 0; j < joints; ++j)
    small::joint(s, "joint " + std::to_string(j), dice.real(10.0, 35.0),
                 dice.chance(0.3) ? dice.real(1e-5, 2e-4) : 0.0);
  int lines = 0;
  const auto lay = [&](const std::string& from, double from_m, const std::string& to, double to_m) {
    std::vector<std::pair<double, double>> survey;
    const int points = dice.whole(2, 8);
    for (int i = 0; i < points; ++i) {
      const double share = static_cast<double>(i) / (points - 1);
      const bool end = i == 0 || i + 1 == points;
      survey.emplace_back(i == 0 ? 0.0 : survey.back().first + dice.real(20.0, 150.0),
                          from_m + share * (to_m - from_m) + (end ? 0.0 : dice.real(-6.0, 2.0)));
    }
    network::Pipeline& l =
        small::line(s, "line " + std::to_string(lines++), from, to, dice.real(0.016, 0.06), survey);
    if (dice.chance(0.3))
      l.pipes.push_back({small::pipe(dice.real(0.016, 0.06)),
                         Length::metres(dice.real(0.2, 0.8) * survey.back().first),
                         {},
                         {}});
  };
  const auto height = [&](int j) { return s.joints[static_cast<std::size_t>(j)].elevation.metres(); };
  const auto name = [](int j) { return "joint " + std::to_string(j); };
  lay("spring", top_m, name(0), height(0));
  for (int j = 1; j < joints; ++j) {
    const int from = dice.whole(0, j - 1);
    lay(name(from), height(from), name(j), height(j));
  }
  for (int j = 0; j < joints; ++j)
    for (int k = dice.whole(j + 1 == joints ? 1 : 0, 2); k > 0; --k) {
      const std::string end = "end " + std::to_string(j) + " " + std::to_string(k);
      const double end_m = dice.real(0.0, 20.0);
      if (dice.chance(0.3))
        small::tank(s, end, end_m, end_m + dice.real(-0.9, 0.9));
      else
        small::outlet(s, end, end_m, dice.chance(0.3) ? dice.real(0.004, 0.014) : 0.0);
      lay(name(j), height(j), end, end_m);
    }
  return s;
}

}  // namespace

TEST_CASE("a whole system starts with the flow and the pockets of the worked tables") {
  for (const std::string& name : tables) {
    CAPTURE(name);
    const json whole = table(name), in = whole["inputs"], expected = whole["expected"];
    const network::System system = support::resolved(model_of(in));
    const auto result = at_first(system);
    REQUIRE(result);
    CHECK(result->proved());
    const air::AirState& first = result->first();
    CHECK(first.runs[0].flow_m3s == Approx(expected["flow_at_first_m3s"].get<double>()).epsilon(digits));
    CHECK(first.runs[0].velocity_ms ==
          Approx(expected["velocity_at_first_ms"].get<double>()).epsilon(digits));
    CHECK(first.state.outlets[0].flow_m3s == Approx(first.runs[0].flow_m3s).epsilon(1e-12));
    REQUIRE(first.air.size() == expected["pockets_at_first"].size());
    for (std::size_t k = 0; k < first.air.size(); ++k) {
      const json& row = expected["pockets_at_first"][k];
      CHECK(first.air[k].held.crest_station_m == row["crest"].get<double>());
      CHECK(first.air[k].interface_m == Approx(row["interface_level_m"].get<double>()).epsilon(digits));
      CHECK(first.air[k].gauge_head_m == Approx(row["gauge_m"].get<double>()).epsilon(digits));
      CHECK(first.air[k].head_taken_m > 0.0);
    }
    CHECK(
        result->uncompressed.runs[0].flow_m3s ==
        Approx(expected["flow_if_pockets_do_not_compress_m3s"].get<double>()).epsilon(digits).margin(1e-12));
  }
}

TEST_CASE("air is followed by every law to an end between the first state and the full line") {
  for (const std::string& name : tables) {
    CAPTURE(name);
    const json in = table(name)["inputs"];
    const network::System system = support::resolved(model_of(in));
    const auto result = at_first(system);
    REQUIRE(result);
    REQUIRE(result->laws.size() == air::clearing_laws().size());
    const double without = steady::solve(system).outlets[0].flow_m3s;
    for (const air::LawEnd& end : result->laws) {
      const air::AirState& there = result->states[end.state];
      CHECK(there.runs[0].flow_m3s >= result->first().runs[0].flow_m3s * (1.0 - 1e-9));
      CHECK(there.runs[0].flow_m3s <= without * (1.0 + 1e-9));
      // What is left is left because the current does not carry it.
      for (const air::RunningAir& air : there.air)
        CHECK(there.runs[0].velocity_ms <=
              air::carrying_velocity_ms(
                  end.law, in["bore_m"],
                  air::down_angle_rad(air.held.crest_elevation_m - air.held.low_elevation_m,
                                      air.held.low_station_m - air.held.crest_station_m)));
    }
    CHECK_FALSE(result->ends().empty());
  }
}

TEST_CASE("a steep and fast line carries its air off and then runs as if it had none") {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-2, 100.0, 101.0);
  small::outlet(s, "trough", 0.0);
  small::line(s, "main", "spring", "trough", 0.05,
              {{0, 100}, {100, 80}, {200, 82}, {260, 80}, {300, 81}, {700, 0}});
  const network::System system = support::resolved(s);
  const auto result = at_first(system);
  REQUIRE(result);
  CHECK(result->proved());
  const double without = steady::solve(system).outlets[0].flow_m3s;
  bool some_clear = false;
  for (const air::LawEnd& end : result->laws)
    if (result->states[end.state].air.empty()) {
      some_clear = true;
      CHECK(result->states[end.state].runs[0].flow_m3s == Approx(without).epsilon(1e-12));
    }
  CHECK(some_clear);
}

TEST_CASE("nothing starts with air where every crest is vented, there is none, or the way is blocked") {
  const json in = table("two_pockets")["inputs"];
  network::Model vented = model_of(in);
  for (const double at : {300.0, 610.0})
    vented.pipelines[0].parts.push_back(
        small::part(network::PartKind::air_valve, "A" + std::to_string(int(at)), at));
  CHECK_FALSE(at_first(support::resolved(vented)));
  network::Model falling = model_of(in);
  falling.pipelines[0].survey = {falling.pipelines[0].survey.front(), falling.pipelines[0].survey.back()};
  CHECK_FALSE(at_first(support::resolved(falling)));
  network::Model blocked = model_of(in);
  for (auto& p : blocked.pipelines[0].survey)  // everything behind the mouth 3 m higher
    if (p.station.metres() > 0.0) p.elevation = Length::metres(p.elevation.metres() + 3.0);
  blocked.outlets[0].elevation = blocked.pipelines[0].survey.back().elevation;
  CHECK_FALSE(at_first(support::resolved(blocked)));
}

TEST_CASE("a leg that runs on over a joint holds one body of air, as if there were no joint") {
  const json in = table("two_pockets")["inputs"];
  const network::Model whole = model_of(in);
  network::Model cut = whole;
  small::joint(cut, "tee", 50.75);  // half-way down the first descent, from 54.5 m to 47 m
  network::Pipeline below = cut.pipelines[0];
  network::Pipeline& above = cut.pipelines[0];
  const std::vector<network::SurveyPoint> points = above.survey;
  const network::SurveyPoint middle{Length::metres(410.0), Length::metres(50.75)};
  above.survey.assign(points.begin(), points.begin() + 3);
  above.survey.push_back(middle);
  above.to = "tee";
  above.exit_loss = 0.0;
  below.name = "lower";
  below.from = "tee";
  below.entrance_loss = 0.0;
  below.survey.assign(points.begin() + 3, points.end());
  below.survey.insert(below.survey.begin(), middle);
  below.pipes[0].from = middle.station;
  cut.pipelines.push_back(below);
  const auto one = at_first(support::resolved(whole)), two = at_first(support::resolved(cut));
  REQUIRE((one && two));
  CHECK(two->proved());
  // The velocity head is neglected at joints: 7 mm of 60 m.
  CHECK(two->first().runs[0].flow_m3s == Approx(one->first().runs[0].flow_m3s).epsilon(1e-3));
  CHECK(two->uncompressed.runs[0].flow_m3s == Approx(one->uncompressed.runs[0].flow_m3s).epsilon(1e-2));
  REQUIRE(two->first().air.size() == 3);
  CHECK(two->first().air[0].held.body == two->first().air[1].held.body);
  const double in_both = two->first().air[0].volume_m3 + two->first().air[1].volume_m3;
  CHECK(in_both == Approx(one->first().air[0].volume_m3).epsilon(1e-3));
}

namespace {

/// The table's line with a reducing valve half-way down to its first low point, at 210 m.
network::Model reduced(const json& in, double holds_m) {
  network::Model s = model_of(in);
  network::Part valve = small::part(network::PartKind::reducing_valve, "R1", 210.0);
  valve.set_pressure = Pressure::pascals((holds_m - 51.0) * s.site.specific_weight_nm3());
  s.pipelines[0].parts = {valve};
  return s;
}

}  // namespace

TEST_CASE("a reducing valve before the air holds the head that the line behind it starts from") {
  const json in = table("two_pockets")["inputs"];
  SECTION("wide open it is as if it were not there") {
    const auto open = at_first(support::resolved(reduced(in, 70.0)));
    const auto none = at_first(support::resolved(model_of(in)));
    REQUIRE((open && none));
    CHECK(open->not_followed.empty());
    CHECK(open->proved());
    CHECK(open->first().runs[0].flow_m3s == Approx(none->first().runs[0].flow_m3s).epsilon(1e-9));
  }
  SECTION("throttling it stands in for a box at that level") {
    // Behind the valve the line is one of its own: from 210 m on, without the loss of an entrance.
    network::Model stub = model_of(in);
    network::Pipeline& line = stub.pipelines[0];
    line.survey.erase(line.survey.begin());
    line.pipes[0].from = line.survey.front().station;
    line.entrance_loss = 0.0;
    stub.boxes[0].outlet = Length::metres(51.0);
    for (const double holds_m : {57.6, 58.0, 58.4}) {
      CAPTURE(holds_m);
      stub.boxes[0].lip = Length::metres(holds_m);
      const auto held = at_first(support::resolved(reduced(in, holds_m)));
      const auto alone = at_first(support::resolved(stub));
      REQUIRE((held && alone));
      CHECK(held->not_followed.empty());
      CHECK(held->proved());
      CHECK(held->first().runs[0].flow_m3s > 1e-5);
      CHECK(held->first().runs[0].flow_m3s == Approx(alone->first().runs[0].flow_m3s).epsilon(1e-7));
      REQUIRE(held->first().air.size() == 2);
      for (std::size_t k = 0; k < 2; ++k)
        CHECK(held->first().air[k].gauge_head_m == Approx(alone->first().air[k].gauge_head_m).margin(1e-6));
      CHECK(held->uncompressed.runs[0].flow_m3s ==
            Approx(alone->uncompressed.runs[0].flow_m3s).epsilon(1e-7).margin(1e-12));
    }
  }
  SECTION("holding less than the air asks for, it lets nothing start") {
    const auto held = at_first(support::resolved(reduced(in, 57.0)));  // 57.246 m are asked for
    REQUIRE(held);
    CHECK(held->proved());
    CHECK(held->first().runs[0].flow_m3s == Approx(0.0).margin(1e-12));
  }
  SECTION("between two bodies of air it holds the one behind it") {
    network::Model s = model_of(in);
    network::Part valve = small::part(network::PartKind::reducing_valve, "R1", 560.0);
    valve.set_pressure = Pressure::pascals(3.4 * s.site.specific_weight_nm3());
    s.pipelines[0].parts = {valve};
    const auto held = at_first(support::resolved(s));
    const auto none = at_first(support::resolved(model_of(in)));
    REQUIRE(held);
    CHECK(held->proved());
    CHECK(held->not_followed.empty());
    CHECK(held->first().runs[0].flow_m3s < none->first().runs[0].flow_m3s);
  }
  SECTION("within a body of air it is not followed, and that is said") {
    network::Model s = model_of(in);
    network::Part valve = small::part(network::PartKind::reducing_valve, "R1", 400.0);
    valve.set_pressure = Pressure::pascals(4.0 * s.site.specific_weight_nm3());
    s.pipelines[0].parts = {valve};
    const auto held = at_first(support::resolved(s));
    REQUIRE(held);
    CHECK(held->not_followed == std::vector<std::size_t>{0});
  }
}

TEST_CASE("a line drawn against its flow starts as one drawn with it") {
  network::Model with = model_of(table("two_pockets")["inputs"]);
  with.outlets.clear();
  small::tank(with, "tank", 22.0, 22.5);
  with.pipelines[0].to = "tank";
  network::Model against = with;
  network::Pipeline& line = against.pipelines[0];
  std::swap(line.from, line.to);
  const double last_m = line.survey.back().station.metres();
  std::reverse(line.survey.begin(), line.survey.end());
  for (auto& p : line.survey) p.station = Length::metres(last_m - p.station.metres());
  const auto one = at_first(support::resolved(with)), two = at_first(support::resolved(against));
  REQUIRE((one && two));
  CHECK(one->proved());
  CHECK(two->proved());
  // Their mouths lose the same: 0.5 into the pipe, 1 out of it.
  CHECK(two->first().runs[0].flow_m3s == Approx(-one->first().runs[0].flow_m3s).epsilon(1e-9));
  REQUIRE(two->first().air.size() == one->first().air.size());
  for (std::size_t k = 0; k < one->first().air.size(); ++k) {
    CHECK(two->first().air[k].held.reversed);
    CHECK(two->first().air[k].gauge_head_m == Approx(one->first().air[k].gauge_head_m).epsilon(1e-9));
    CHECK(last_m - two->first().air[k].held.crest_station_m == one->first().air[k].held.crest_station_m);
  }
}

TEST_CASE("random trees with air in them settle and pass the check, and air never lets more through") {
  int held = 0, less = 0, clear = 0;
  for (int seed = 0; seed < trees; ++seed) {
    CAPTURE(seed);
    const network::System system = support::resolved(random_tree(static_cast<std::uint64_t>(seed)));
    const auto result = at_first(system);
    if (!result) continue;
    ++held;
    const steady::State full = steady::solve(system);
    // A tank that gives would give less, and the spring's line then more.
    const bool gives = std::any_of(full.tanks.begin(), full.tanks.end(),
                                   [](const steady::PlaceState& tank) { return tank.inflow_m3s < 0.0; });
    const auto leaves = [](const auto& runs) { return runs[0].flow_m3s; };  // what the spring's line takes
    for (const air::AirState& state : result->states) {
      if (!state.settled || !state.proof.consistent)
        FAIL_CHECK("settled " << state.settled << ", energy " << state.proof.energy_m << ", pressure "
                              << state.proof.boyle_m << ", water " << state.proof.continuity_m3s);
      if (!state.settled) continue;
      if (!gives) CHECK(leaves(state.runs) <= full.lines[0].flow_m3s * (1.0 + 1e-7) + 1e-11);
      if (leaves(state.runs) < 0.99 * full.lines[0].flow_m3s) ++less;
      if (state.air.empty()) ++clear;
    }
    CHECK(result->proved());
  }
  CHECK(held > trees / 4);  // the set is not idle
  CHECK(less > trees / 10);
  CHECK(clear > 0);
}

TEST_CASE("the check refuses a state with air in it that is a little wrong") {
  const network::System system = support::resolved(model_of(table("two_pockets")["inputs"]));
  const auto result = at_first(system);
  REQUIRE(result);
  const air::AirState right = result->first();
  REQUIRE(air::check_at_first(system, right).consistent);
  air::AirState wrong = right;
  wrong.air[0].gauge_head_m += 1e-4;
  CHECK_FALSE(air::check_at_first(system, wrong).consistent);
  wrong = right;
  wrong.air[1].volume_m3 *= 1.001;
  CHECK_FALSE(air::check_at_first(system, wrong).consistent);
  wrong = right;
  wrong.air.pop_back();  // a pocket that was there is not told
  CHECK_FALSE(air::check_at_first(system, wrong).consistent);
  wrong = right;
  *wrong.runs[0].start_head_m += 1e-3;
  CHECK_FALSE(air::check_at_first(system, wrong).consistent);
  wrong = right;
  for (double* flow : {&wrong.runs[0].flow_m3s, &wrong.state.lines[0].flow_m3s}) *flow *= 1.0001;
  CHECK_FALSE(air::check_at_first(system, wrong).consistent);
}

namespace {

/// Flows at first and in the end of each law, by the names of pipelines.
std::map<std::string, std::vector<double>> flows_of(const network::System& system,
                                                    const air::AtFirst& result) {
  std::map<std::string, std::vector<double>> flows;
  for (std::size_t l = 0; l < system.lines().size(); ++l) {
    std::vector<double>& own = flows[system.lines()[l].name];
    own.push_back(result.first().runs[l].flow_m3s);
    for (const air::LawEnd& end : result.laws) own.push_back(result.states[end.state].runs[l].flow_m3s);
  }
  return flows;
}

void check_same(const char* how, const network::Model& one, const network::Model& other,
                const std::string& prefix = {}) {
  CAPTURE(how);
  const network::System a = support::resolved(one), b = support::resolved(other);
  const auto first = at_first(a), second = at_first(b);
  REQUIRE(first.has_value() == second.has_value());
  if (!first) return;
  const auto flows = flows_of(a, *first), again = flows_of(b, *second);
  for (const auto& [name, own] : flows) {
    const auto& others = again.at(prefix + name);
    REQUIRE(own.size() == others.size());
    // Energies close to 1e-9 m of some 50 m; a line nearly level with its end turns that into more of its
    // flow.
    for (std::size_t i = 0; i < own.size(); ++i)
      CHECK(others[i] == Approx(own[i]).epsilon(1e-6).margin(1e-9));
  }
}

network::Model surveyed_twice(network::Model s) {
  for (network::Pipeline& line : s.pipelines) {
    std::vector<network::SurveyPoint> finer;
    for (std::size_t i = 0; i < line.survey.size(); ++i) {
      finer.push_back(line.survey[i]);
      if (i + 1 == line.survey.size()) break;
      const network::SurveyPoint &here = line.survey[i], &next = line.survey[i + 1];
      finer.push_back({0.5 * (here.station + next.station), 0.5 * (here.elevation + next.elevation)});
    }
    line.survey = std::move(finer);
  }
  return s;
}

/// Everything called otherwise and told in the opposite order, so that the solver goes another way.
network::Model told_backwards(network::Model s) {
  const auto rename = [](std::string& name) { name = "x " + name; };
  for (auto& b : s.boxes) rename(b.name);
  for (auto& t : s.tanks) rename(t.name);
  for (auto& o : s.outlets) rename(o.name);
  for (auto& j : s.joints) rename(j.name);
  for (auto& l : s.pipelines) rename(l.name), rename(l.from), rename(l.to);
  std::reverse(s.tanks.begin(), s.tanks.end());
  std::reverse(s.outlets.begin(), s.outlets.end());
  std::reverse(s.joints.begin(), s.joints.end());
  std::reverse(s.pipelines.begin(), s.pipelines.end());
  return s;
}

}  // namespace

TEST_CASE("the datum, names, order and a finer survey change nothing about trees with air in them") {
  for (std::uint64_t seed = 0; seed < trees; ++seed) {
    CAPTURE(seed);
    const network::Model tree = random_tree(seed);
    check_same("finer", tree, surveyed_twice(tree));
    if (seed >= 100) continue;
    check_same("lifted", tree, test::lifted(tree, 900.0));
    check_same("backwards", tree, told_backwards(tree), "x ");
  }
}
