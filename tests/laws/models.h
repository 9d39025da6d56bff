#pragma once
// Every example under every one of its settings.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "runnel/input/read_model.h"
#include "runnel/steady/state.h"
#include "support/examples.h"
#include "support/rooms.h"

namespace runnel::test {

struct Case {
  std::string name;  ///< model, setting
  std::string text;  ///< of the model
  std::string setting;
  network::Model system;  ///< as it runs under the setting
};

inline std::vector<Case> all_cases() {
  std::vector<Case> cases;
  for (const std::filesystem::path& folder : support::examples()) {
    std::ifstream in(folder / "model.yaml", std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    const auto model = input::read_model(text, "model.yaml");
    REQUIRE(model);
    std::vector<std::string> settings{"normal"};
    for (const auto& setting : model.value->settings) settings.push_back(setting.name);
    for (const auto& setting : settings) {
      const auto run = network::under_setting(*model.value, setting);
      REQUIRE(run);
      cases.push_back({folder.filename().string() + ", " + setting, text, setting, *run.value});
    }
  }
  REQUIRE(cases.size() >= 11);
  return cases;
}

inline steady::State settled(const network::Model& system) {
  steady::State state = steady::solve(system);
  REQUIRE(state.outcome == steady::Outcome::settled);
  return state;
}

/// All the water that moves, to measure differences by.
inline double all_flow(const steady::State& state) {
  double sum = 1e-9;
  for (const auto& line : state.lines) sum += std::abs(line.flow_m3s);
  return sum;
}

/// Two flows this near are one. Examples, which end at round-off: 1e-9 of what moves, and 1e-12 m3/s, which
/// the solver shows as none. Nasty systems hold short wide lines through which the 1e-9 m where the solver
/// stops drives more than that.
constexpr double example_share = 1e-9, nasty_share = 1e-6;
inline double flow_limit(const steady::State& state, double share = example_share) {
  return share * all_flow(state) + 1e-12;
}

/// Nasty systems may fail to settle, about one in 10,000 (steady/nasty_systems_test.cpp); they say nothing
/// here.
inline bool both_settled(const steady::State& one, const steady::State& two, int& unsettled) {
  const bool both = one.outcome == steady::Outcome::settled && two.outcome == steady::Outcome::settled;
  if (!both) ++unsettled;
  return both;
}

/// Water that comes out of outlets or over lips, and heads, place by place, by their names. `lifted_m` is
/// what the second stands higher.
inline void check_same_places(const steady::State& one, const steady::State& two, double flow_m3s,
                              double head_m, double lifted_m = 0.0) {
  const std::vector<steady::PlaceState>* kinds[] = {&one.boxes, &one.tanks, &one.outlets, &one.joints};
  for (const auto* kind : kinds)
    for (const auto& a : *kind) {
      INFO(a.name);
      REQUIRE(two.place(a.name) != nullptr);
      const auto& b = *two.place(a.name);
      CHECK(std::abs(a.flow_m3s - b.flow_m3s) <= flow_m3s);
      CHECK(std::abs(a.spill_m3s - b.spill_m3s) <= flow_m3s);
      CHECK(std::abs(a.inflow_m3s - b.inflow_m3s) <= flow_m3s);
      CHECK(std::abs(a.draw_given_m3s - b.draw_given_m3s) <= flow_m3s);
      CHECK(a.dry == b.dry);
      REQUIRE(a.grade_m.has_value() == b.grade_m.has_value());
      REQUIRE(a.level_m.has_value() == b.level_m.has_value());
      if (a.grade_m) CHECK(std::abs(*a.grade_m + lifted_m - *b.grade_m) <= head_m);
      if (a.level_m) CHECK(std::abs(*a.level_m + lifted_m - *b.level_m) <= head_m);
    }
}

}  // namespace runnel::test
