#include "runnel/works/layers.h"

#include "runnel/works/seepage.h"

namespace runnel::works {

namespace {

struct ClothRow {
  Length opening;
  double permittivity_ps;
};

/// [aashto-m288]: by the soil's percent under 0.075 mm: under 15, 15 to 50, above 50.
ClothRow aashto_row(double fines_percent) {
  if (fines_percent < 15.0) return {Length::millimetres(0.43), 0.5};
  if (fines_percent <= 50.0) return {Length::millimetres(0.25), 0.2};
  return {Length::millimetres(0.22), 0.1};
}

/// Sieves 70 and 100 [astm-e11].
constexpr double sieve_no_70_m = 0.212e-3, sieve_no_100_m = 0.150e-3;

std::vector<Judgement> by_corps(const GradingBand& soil, const Cloth& cloth, std::optional<double> fines) {
  constexpr std::string_view source = "corps-shore";
  if (!fines || *fines < 50.0) {
    const std::optional<Length> d85 = soil.finest.size_at(85);
    const std::optional<double> figure = fines && d85 ? std::optional(*d85 / cloth.opening) : std::nullopt;
    return {judge(Rule::soil_over_opening, Measure::ratio, figure, at_least(1.0), source)};
  }
  const double opening_m = cloth.opening.metres();
  std::vector<Judgement> judged = {
      judge(Rule::cloth_opening, Measure::metres, opening_m, at_most(sieve_no_70_m), source),
      judge(Rule::cloth_opening, Measure::metres, opening_m, at_least(sieve_no_100_m), source)};
  // Over 85 % the manual lets no cloth lie alone on the soil, whatever its openings.
  if (*fines > 85.0)
    for (Judgement& judgement : judged) judgement.verdict = Verdict::fails;
  return judged;
}

/// O95 <= B D85: B is 1 for even soil (Cu under 3), 0.5 to 1 for well graded soil [cloth-maker-note].
Judgement by_evenness(const GradingBand& soil, const Cloth& cloth) {
  const std::optional<Length> d85 = soil.finest.size_at(85);
  const std::optional<double> uniformity = soil.finest.uniformity();
  std::optional<double> figure;
  std::optional<Limit> limit;
  if (d85) figure = cloth.opening / *d85;
  if (uniformity) limit = *uniformity < 3.0 ? at_most(1.0) : at_most(0.5, 1.0);
  return judge(Rule::opening_over_soil, Measure::ratio, figure, limit, "cloth-maker-note");
}

}  // namespace

std::vector<Judgement> judge_cloth(const GradingBand& soil, const Cloth& cloth,
                                   std::optional<Velocity> soil_conductivity) {
  constexpr std::string_view source = "aashto-m288";
  const std::optional<double> fines = soil.finest.finer_than(sieve_no_200);
  std::optional<Limit> opening, permittivity;
  if (fines) {
    opening = at_most(aashto_row(*fines).opening.metres());
    permittivity = at_least(aashto_row(*fines).permittivity_ps);
  }
  std::vector<Judgement> judged = {
      judge(Rule::cloth_opening, Measure::metres, cloth.opening.metres(), opening, source),
      judge(Rule::cloth_permittivity, Measure::per_second, cloth.permittivity_ps, permittivity, source)};
  for (const Judgement& judgement : by_corps(soil, cloth, fines)) judged.push_back(judgement);
  judged.push_back(by_evenness(soil, cloth));
  if (cloth.conductivity && soil_conductivity)
    judged.push_back(judge(Rule::cloth_conductivity, Measure::ratio, *cloth.conductivity / *soil_conductivity,
                           at_least(10.0), "cloth-maker-note"));
  return judged;
}

std::vector<Judgement> judge_opening(const GradingBand& stone, const PipeOpening& opening) {
  const auto over = [&opening](std::optional<Length> size) {
    return size ? std::optional(*size / opening.size) : std::nullopt;
  };
  const Limit limit = opening.shape == OpeningShape::hole ? at_least(1.2, 1.0) : at_least(1.4, 1.2);
  std::vector<Judgement> judged = {
      judge(Rule::pipe_opening, Measure::ratio, over(stone.finest.size_at(85)), limit, "corps-shore")};
  if (opening.surging)
    judged.push_back(judge(Rule::pipe_opening, Measure::ratio, over(stone.finest.size_at(15)), at_least(1.0),
                           "nrcs-633-26"));
  return judged;
}

namespace {

/// By Hazen's rule with the greatest constant; none outside the sizes for which it was found.
std::optional<Velocity> greatest_conductivity(const GradingBand& soil) {
  const auto d10 = soil.coarsest.size_at(10.0);
  const auto range = d10 ? hazen_range(*d10) : std::nullopt;
  return range ? std::optional(range->high) : std::nullopt;
}

}  // namespace

std::vector<LayerJudgement> judge_layers(const Soil& soil, std::span<const Layer> layers,
                                         const std::optional<PipeOpening>& opening, FilterEdition edition) {
  std::vector<LayerJudgement> all;
  const auto add = [&all](std::size_t layer, const std::vector<Judgement>& judged) {
    for (const Judgement& judgement : judged) all.push_back({layer, judgement});
  };
  std::optional<Soil> before = soil;  // what the next layer must hold back; none inside a cloth
  for (std::size_t i = 0; i < layers.size(); ++i) {
    if (const auto* stone = std::get_if<GradingBand>(&layers[i])) {
      if (before) add(i, judge_filter(*before, *stone, edition));
      add(i, judge_stone(*stone));
      before = Soil{*stone, false};
    } else {
      if (before)
        add(i,
            judge_cloth(before->grading, std::get<Cloth>(layers[i]), greatest_conductivity(before->grading)));
      before.reset();
    }
  }
  if (opening && before) add(layers.size(), judge_opening(before->grading, *opening));
  return all;
}

}  // namespace runnel::works
