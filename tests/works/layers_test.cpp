#include "runnel/works/layers.h"

#include <catch2/catch.hpp>

#include "runnel/base/bibliography.h"

using namespace runnel;
using namespace runnel::works;

namespace {

GradingCurve curve(std::initializer_list<std::pair<double, double>> mm_and_percent) {
  std::vector<SievePoint> points;
  for (const auto& [mm, percent] : mm_and_percent) points.push_back({Length::millimetres(mm), percent});
  return GradingCurve::from_sieves(points).value();
}

/// Soil of that percent under 0.075 mm and D85 of 0.3 mm.
GradingBand with_fines(double percent) {
  return GradingBand::of(curve({{0.075, percent}, {0.3, 86}, {1, 100}}));
}

Cloth cloth(double opening_mm, std::optional<double> permittivity = std::nullopt) {
  return {Length::millimetres(opening_mm), permittivity, std::nullopt};
}

}  // namespace

TEST_CASE("cloth openings follow the published rows") {
  // [aashto-m288] as UFGS 02373 prints it; it prints "> 15" in its last row, a slip for "> 50".
  const struct {
    double fines, opening_mm, permittivity;
  } rows[] = {{10, 0.43, 0.5}, {15, 0.25, 0.2}, {50, 0.25, 0.2}, {60, 0.22, 0.1}};
  for (const auto& row : rows) {
    CAPTURE(row.fines);
    const auto judged = judge_cloth(with_fines(row.fines), cloth(row.opening_mm, row.permittivity));
    CHECK(judged[0].limit->strict == Approx(row.opening_mm * 1e-3));
    CHECK(judged[1].limit->strict == Approx(row.permittivity));
    CHECK(judged[0].verdict == Verdict::holds);
    CHECK(judged[1].verdict == Verdict::holds);
    CHECK(judge_cloth(with_fines(row.fines), cloth(row.opening_mm + 0.01))[0].verdict == Verdict::fails);
  }
  CHECK(judge_cloth(with_fines(10), cloth(0.3))[1].verdict == Verdict::cannot_be_judged);
}

TEST_CASE("the Corps judges cloth by D85 on coarse soil and by sieves on fine") {
  CHECK(judge_cloth(with_fines(20), cloth(0.25))[2].verdict == Verdict::holds);
  CHECK(judge_cloth(with_fines(20), cloth(0.32))[2].verdict == Verdict::fails);
  const auto fine = judge_cloth(with_fines(60), cloth(0.2));
  REQUIRE(fine.size() == 5);
  CHECK(fine[2].verdict == Verdict::holds);
  CHECK(fine[3].verdict == Verdict::holds);
  CHECK(judge_cloth(with_fines(60), cloth(0.22))[2].verdict == Verdict::fails);
  CHECK(judge_cloth(with_fines(60), cloth(0.14))[3].verdict == Verdict::fails);
  const auto clay = GradingBand::of(curve({{0.01, 50}, {0.075, 90}, {1, 100}}));
  CHECK(judge_cloth(clay, cloth(0.2))[2].verdict == Verdict::fails);
}

TEST_CASE("cloth on even soil may be twice as open as on well graded soil") {
  const auto verdict = [](const GradingCurve& soil, double opening_mm) {
    for (const Judgement& judgement : judge_cloth(GradingBand::of(soil), cloth(opening_mm)))
      if (judgement.rule == Rule::opening_over_soil) return judgement.verdict;
    throw std::logic_error("no such rule");
  };
  const GradingCurve even = curve({{0.075, 0}, {0.2, 10}, {0.4, 60}, {0.5, 85}, {1, 100}});
  const GradingCurve wide = curve({{0.02, 0}, {0.05, 10}, {0.3, 60}, {0.5, 85}, {1, 100}});
  CHECK(verdict(even, 0.49) == Verdict::holds);
  CHECK(verdict(even, 0.51) == Verdict::fails);
  CHECK(verdict(wide, 0.24) == Verdict::holds);
  CHECK(verdict(wide, 0.49) == Verdict::undecided);
  CHECK(verdict(wide, 0.51) == Verdict::fails);
  CHECK(verdict(curve({{0.1, 50}, {0.5, 85}, {1, 100}}), 0.2) == Verdict::cannot_be_judged);
}

TEST_CASE("cloth must lead ten times better than the soil") {
  Cloth good = cloth(0.2, 0.5);
  good.conductivity = Velocity::metres_per_second(1e-3);
  const auto verdict = [&](double soil_ms) {
    return judge_cloth(with_fines(20), good, Velocity::metres_per_second(soil_ms)).back().verdict;
  };
  CHECK(verdict(0.9e-4) == Verdict::holds);
  CHECK(verdict(1.1e-4) == Verdict::fails);
}

TEST_CASE("stone at holes and slots follows the published spans") {
  // [corps-shore]: a hole of 3 mm needs D85 of 3.0 to 3.6 mm, a slot of 2 mm 2.4 to 2.8 mm.
  const auto verdict = [](double d85_mm, OpeningShape shape, double size_mm) {
    const auto stone = GradingBand::of(curve({{0.1 * d85_mm, 15}, {d85_mm, 85}}));
    return judge_opening(stone, {shape, Length::millimetres(size_mm), false})[0].verdict;
  };
  CHECK(verdict(3.61, OpeningShape::hole, 3) == Verdict::holds);
  CHECK(verdict(3.3, OpeningShape::hole, 3) == Verdict::undecided);
  CHECK(verdict(2.99, OpeningShape::hole, 3) == Verdict::fails);
  CHECK(verdict(2.81, OpeningShape::slot, 2) == Verdict::holds);
  CHECK(verdict(2.6, OpeningShape::slot, 2) == Verdict::undecided);
  CHECK(verdict(2.39, OpeningShape::slot, 2) == Verdict::fails);
  const auto stone = GradingBand::of(curve({{2, 15}, {20, 85}}));
  CHECK(worst_of(judge_opening(stone, {OpeningShape::hole, Length::millimetres(3), true})) == Verdict::fails);
  CHECK(worst_of(judge_opening(stone, {OpeningShape::hole, Length::millimetres(1.9), true})) ==
        Verdict::holds);
}

TEST_CASE("layers are judged from the soil outward to the pipe") {
  const Soil soil{GradingBand::of(curve({{0.17, 15}, {0.5, 50}, {1.5, 85}, {4, 100}})), false};
  const GradingBand sand =
      GradingBand::of(curve({{0.075, 0}, {2, 10}, {2.5, 15}, {5, 50}, {12, 85}, {20, 100}}));
  const GradingBand gravel =
      GradingBand::of(curve({{0.075, 0}, {12, 10}, {15, 15}, {25, 50}, {38, 85}, {50, 100}}));
  const PipeOpening hole{OpeningShape::hole, Length::millimetres(6), false};
  const std::vector<Layer> layers = {sand, gravel};
  const auto all = judge_layers(soil, layers, hole, FilterEdition::river_manual);
  for (const LayerJudgement& one : all) {
    CAPTURE(one.layer, static_cast<int>(one.judgement.rule));
    CHECK(one.judgement.verdict == Verdict::holds);
  }
  CHECK(all.front().layer == 0);
  CHECK(all.back().layer == 2);

  // Without the sand the gravel loses the soil, and it is the first layer that is blamed.
  const std::vector<Layer> gravel_only = {gravel};
  bool blamed = false;
  for (const LayerJudgement& one : judge_layers(soil, gravel_only, hole, FilterEdition::river_manual))
    if (one.judgement.rule == Rule::retention)
      blamed = one.layer == 0 && one.judgement.verdict == Verdict::fails;
  CHECK(blamed);
}

TEST_CASE("behind a cloth nothing is left to hold back") {
  // A curve with D10, so that every rule of cloth can be judged; Cu is 2.8.
  const Soil soil{
      GradingBand::of(curve({{0.04, 0}, {0.06, 10}, {0.075, 20}, {0.17, 60}, {0.3, 86}, {1, 100}})), false};
  const GradingBand gravel = GradingBand::of(curve({{0.075, 0}, {12, 10}, {25, 50}, {45, 100}}));
  const std::vector<Layer> layers = {cloth(0.2, 0.5), gravel};
  const auto all = judge_layers(soil, layers, PipeOpening{OpeningShape::hole, Length::millimetres(6), false},
                                FilterEdition::nrcs_2017);
  for (const LayerJudgement& one : all) {
    CHECK(one.judgement.rule != Rule::retention);
    CHECK(one.judgement.verdict == Verdict::holds);
  }
  CHECK(all.back().judgement.rule == Rule::pipe_opening);
  const std::vector<Layer> wrapped = {cloth(0.2, 0.5)};
  for (const LayerJudgement& one :
       judge_layers(soil, wrapped, PipeOpening{OpeningShape::hole, Length::millimetres(6), false},
                    FilterEdition::nrcs_2017))
    CHECK(one.judgement.rule != Rule::pipe_opening);
  // A bare pipe in soil: the holes are held against the soil itself.
  const auto bare = judge_layers(soil, {}, PipeOpening{OpeningShape::hole, Length::millimetres(6), false},
                                 FilterEdition::nrcs_2017);
  REQUIRE(bare.size() == 1);
  CHECK(bare[0].layer == 0);
  CHECK(bare[0].judgement.verdict == Verdict::fails);
}

TEST_CASE("every judgement names a source of the bibliography") {
  const GradingBand band = with_fines(60);
  std::vector<Judgement> all = judge_stone(band);
  const auto add = [&all](const std::vector<Judgement>& more) {
    all.insert(all.end(), more.begin(), more.end());
  };
  for (int edition = 0; edition <= static_cast<int>(FilterEdition::reclamation_2011); ++edition)
    add(judge_filter({band, false}, band, static_cast<FilterEdition>(edition)));
  Cloth full = cloth(0.2, 0.5);
  full.conductivity = Velocity::metres_per_second(1e-3);
  add(judge_cloth(band, full, Velocity::metres_per_second(1e-5)));
  add(judge_cloth(with_fines(20), full));
  add(judge_opening(band, {OpeningShape::slot, Length::millimetres(1), true}));
  for (const Judgement& judgement : all) {
    CAPTURE(judgement.source);
    CHECK(runnel::base::find_reference(judgement.source) != nullptr);
  }
}
