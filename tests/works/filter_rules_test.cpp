#include "runnel/works/filter_rules.h"

#include <catch2/catch.hpp>

using namespace runnel;
using namespace runnel::works;

namespace {

GradingCurve curve(std::initializer_list<std::pair<double, double>> mm_and_percent) {
  std::vector<SievePoint> points;
  for (const auto& [mm, percent] : mm_and_percent) points.push_back({Length::millimetres(mm), percent});
  return GradingCurve::from_sieves(points).value();
}

GradingCurve three(double d85_mm, double d50_mm, double d15_mm) {
  return curve({{d15_mm, 15}, {d50_mm, 50}, {d85_mm, 85}});
}

Judgement found(const std::vector<Judgement>& all, Rule rule) {
  for (const Judgement& judgement : all)
    if (judgement.rule == rule) return judgement;
  throw std::logic_error("no such rule");
}

Soil soil(const GradingCurve& grading) { return {GradingBand::of(grading), false}; }

}  // namespace

// [fhwa-river-manual], pp. 6.61 to 6.63 and 6.70; the printed figures are rounded, the unrounded computed.
TEST_CASE("published filter example 1 needs no filter") {
  const auto all = judge_filter(soil(three(1.50, 0.75, 0.38)), GradingBand::of(three(24, 12, 6)),
                                FilterEdition::river_manual);
  CHECK(*found(all, Rule::uniformity).figure == Approx(16.0).epsilon(1e-12));
  CHECK(*found(all, Rule::permeability).figure == Approx(16.0).margin(0.5));  // printed 16
  CHECK(*found(all, Rule::permeability).figure == Approx(15.79).margin(0.005));
  CHECK(*found(all, Rule::retention).figure == Approx(4.0).epsilon(1e-12));
  CHECK(worst_of(all) == Verdict::holds);
}

TEST_CASE("published filter example 2 fails twice and finds its filter") {
  const GradingCurve base = three(1.5, 0.5, 0.17), rock = three(400, 200, 100);
  const auto all = judge_filter(soil(base), GradingBand::of(rock), FilterEdition::river_manual);
  CHECK(*found(all, Rule::not_too_coarse).figure == Approx(600.0).margin(50));  // printed to one digit
  CHECK(*found(all, Rule::not_too_coarse).figure == Approx(588.0).margin(0.5));
  CHECK(found(all, Rule::not_too_coarse).verdict == Verdict::fails);
  CHECK(*found(all, Rule::retention).figure == Approx(67.0).margin(0.5));
  CHECK(found(all, Rule::retention).verdict == Verdict::fails);

  // Against the base alone: D50F < 20, D15F < 6.8 (and < 7.5, never the tighter here), > 0.85 mm. A cover so
  // large that it sets no bound, or one that lies within them, shows the base's.
  const FilterBounds on_base = filter_between(base, three(60, 30, 17));
  CHECK(on_base.d50.most->millimetres() == Approx(20.0).epsilon(1e-12));
  CHECK(on_base.d15.least->millimetres() == Approx(0.85).epsilon(1e-12));

  // Base and rock together. Against the rock the text as read prints "D50 < 2" and "D15 > 20": slips for
  // D50F > 5 (200/40) and D15F < 20 (100/5), as the ratios a page before have it. D85F > 20 was cut off
  // and is computed.
  const FilterBounds both = filter_between(base, rock);
  CHECK(both.d15.most->millimetres() == Approx(6.8).epsilon(1e-12));
  CHECK(both.d15.least->millimetres() == Approx(2.5).epsilon(1e-12));
  CHECK(both.d50.least->millimetres() == Approx(5.0).epsilon(1e-12));
  CHECK(both.d50.most->millimetres() == Approx(20.0).epsilon(1e-12));
  CHECK(both.d85.least->millimetres() == Approx(20.0).epsilon(1e-12));
  CHECK_FALSE(both.d85.most);
  // The limit of 7.5 governs where the soil is even: D85 near D15.
  CHECK(filter_between(three(1.5, 1.2, 1.0), rock).d15.most->millimetres() == Approx(7.5).epsilon(1e-12));
  // The rock's 20 governs where the base is coarse.
  CHECK(filter_between(three(30, 10, 5), rock).d15.most->millimetres() == Approx(20.0).epsilon(1e-12));
}

TEST_CASE("a filter within the bounds holds against base and cover") {
  const GradingCurve base = three(1.5, 0.5, 0.17), rock = three(400, 200, 100), filter = three(40, 10, 4);
  CHECK(worst_of(judge_filter(soil(base), GradingBand::of(filter), FilterEdition::river_manual)) ==
        Verdict::holds);
  CHECK(worst_of(judge_filter(soil(filter), GradingBand::of(rock), FilterEdition::river_manual)) ==
        Verdict::holds);
}

TEST_CASE("the greatest D15 by the four classes is as worked by hand") {
  // Computed from the table of `filter_rules.h`, not published; (A %, d85 mm) -> mm.
  const struct {
    double fines, d85_mm, most_mm;
    GradingCurve soil;
  } rows[] = {{95, 0.03, 0.27, curve({{0.03, 85}, {0.075, 95}, {1, 100}})},
              {95, 0.01, 0.20, curve({{0.01, 85}, {0.075, 95}, {1, 100}})},
              {60, 0.1, 0.70, curve({{0.075, 60}, {0.1, 85}, {1, 100}})},
              {30, 1.0, 2.02, curve({{0.075, 30}, {1, 85}, {4, 100}})},
              {20, 0.1, 0.70, curve({{0.075, 20}, {0.1, 85}, {4, 100}})},
              {10, 2.0, 8.0, curve({{0.075, 10}, {2, 85}, {4, 100}})}};
  for (const auto& row : rows) {
    CAPTURE(row.fines, row.d85_mm);
    const auto most = greatest_filter_d15(row.soil, false, FilterEdition::nrcs_1994);
    REQUIRE(most);
    CHECK(most->millimetres() == Approx(row.most_mm).epsilon(1e-12));
  }
  const GradingCurve clay = curve({{0.05, 85}, {0.075, 95}, {1, 100}});
  CHECK(greatest_filter_d15(clay, true, FilterEdition::nrcs_2017)->millimetres() == Approx(0.325));
  CHECK(greatest_filter_d15(clay, true, FilterEdition::nrcs_1994)->millimetres() == Approx(0.45));
  CHECK(greatest_filter_d15(clay, false, FilterEdition::nrcs_2017)->millimetres() == Approx(0.45));
}

TEST_CASE("soil with gravel is regraded before retention and not before permeability") {
  // 20 % of the part that passes the No. 4 sieve is fine: class 3, with d85 of that part.
  const GradingCurve gravelly = curve({{0.075, 10}, {1, 30}, {4.75, 50}, {75, 100}});
  const auto d85 = gravelly.passing(sieve_no_4)->size_at(85)->millimetres();
  CHECK(greatest_filter_d15(gravelly, false, FilterEdition::nrcs_1994)->millimetres() ==
        Approx(0.8 * (4 * d85 - 0.7) + 0.7).epsilon(1e-12));
  const auto all = judge_filter(soil(gravelly), GradingBand::of(three(40, 20, 3)), FilterEdition::nrcs_1994);
  const double d15_mm = gravelly.size_at(15)->millimetres();
  CHECK(found(all, Rule::permeability).limit->strict * 1e3 == Approx(4 * d15_mm).epsilon(1e-12));
}

TEST_CASE("editions ask for different drainage") {
  const GradingCurve sand = curve({{0.05, 0}, {0.2, 15}, {0.5, 50}, {1.5, 85}, {4, 100}});
  const auto least_mm = [&](FilterEdition edition, double d15_mm) {
    const auto all =
        judge_filter(soil(sand), GradingBand::of(curve({{d15_mm, 15}, {10 * d15_mm, 85}})), edition);
    return std::pair(found(all, Rule::permeability).limit->strict * 1e3,
                     found(all, Rule::permeability).verdict);
  };
  CHECK(least_mm(FilterEdition::nrcs_1994, 0.8).first == Approx(0.8));
  CHECK(least_mm(FilterEdition::nrcs_1994, 0.81).second == Verdict::holds);
  CHECK(least_mm(FilterEdition::nrcs_2017, 0.81).second == Verdict::fails);
  CHECK(least_mm(FilterEdition::reclamation_2011, 1.01).second == Verdict::holds);
  CHECK(least_mm(FilterEdition::corps_2005, 0.81).second == Verdict::undecided);
  CHECK(least_mm(FilterEdition::corps_2005, 0.59).second == Verdict::fails);
  CHECK(least_mm(FilterEdition::nrcs_band, 1.19).second == Verdict::fails);  // 4 * 1.5 / 5 = 1.2
  CHECK(least_mm(FilterEdition::nrcs_band, 1.21).second == Verdict::holds);
  // Fine soil: never below 0.1 mm.
  const GradingCurve silt = curve({{0.002, 15}, {0.03, 85}, {0.075, 95}, {1, 100}});
  const auto all =
      judge_filter(soil(silt), GradingBand::of(curve({{0.2, 15}, {2, 85}})), FilterEdition::nrcs_1994);
  CHECK(found(all, Rule::permeability).limit->strict == Approx(1e-4));
}

TEST_CASE("the earth manual leaves ratios of 4 to 5 undecided") {
  const auto verdicts = [](double filter_d15_mm) {
    return judge_filter(soil(three(1.0, 0.5, 0.25)),
                        GradingBand::of(curve({{0.075, 2}, {filter_d15_mm, 15}, {20 * filter_d15_mm, 85}})),
                        FilterEdition::earth_manual_1960);
  };
  CHECK(found(verdicts(3.9), Rule::retention).verdict == Verdict::holds);
  CHECK(found(verdicts(4.5), Rule::retention).verdict == Verdict::undecided);
  CHECK(found(verdicts(5.1), Rule::retention).verdict == Verdict::fails);
  CHECK(found(verdicts(1.1), Rule::permeability).verdict == Verdict::undecided);
  CHECK(worst_of(verdicts(3.0)) == Verdict::holds);
}

TEST_CASE("bands are judged at their bad ends") {
  const GradingBand soil_band{three(1.0, 0.4, 0.2), three(2.0, 0.9, 0.5)};
  const GradingBand filter{three(20, 8, 3), three(30, 12, 4.9)};
  const auto all = judge_filter({soil_band, false}, filter, FilterEdition::river_manual);
  CHECK(*found(all, Rule::retention).figure == Approx(4.9));     // coarsest filter, finest soil
  CHECK(*found(all, Rule::permeability).figure == Approx(6.0));  // finest filter, coarsest soil
  CHECK(*found(all, Rule::not_too_coarse).figure == Approx(24.5));
}

TEST_CASE("a curve that stops short cannot be judged") {
  const auto all = judge_filter(soil(curve({{0.5, 20}, {2, 80}})), GradingBand::of(three(40, 20, 5)),
                                FilterEdition::nrcs_2017);
  CHECK(found(all, Rule::retention).verdict == Verdict::cannot_be_judged);
  CHECK(found(all, Rule::permeability).verdict == Verdict::cannot_be_judged);
  CHECK_FALSE(found(all, Rule::retention).limit);
}

TEST_CASE("stone that comes apart, is too large or dirty is told") {
  const auto sound = judge_stone(GradingBand::of(curve({{0.075, 0}, {6, 10}, {40, 90}, {50, 100}})));
  CHECK(worst_of(sound) == Verdict::holds);
  CHECK(found(sound, Rule::segregation).limit->strict == Approx(0.050));
  const auto wide = judge_stone(GradingBand::of(curve({{0.075, 0}, {1.5, 10}, {40, 90}, {50, 100}})));
  CHECK(found(wide, Rule::segregation).verdict == Verdict::fails);  // 30 mm at D10 of 1.5 mm
  const auto dirty = judge_stone(GradingBand::of(curve({{0.075, 8}, {6, 20}, {40, 90}, {100, 100}})));
  CHECK(found(dirty, Rule::few_fines).verdict == Verdict::fails);
  CHECK(found(dirty, Rule::largest_stone).verdict == Verdict::fails);
}
