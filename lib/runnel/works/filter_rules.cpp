#include "runnel/works/filter_rules.h"

#include <algorithm>

namespace runnel::works {

namespace {

using Size = std::optional<Length>;

// The ratios of [fhwa-river-manual], equations 6.24 to 6.26.
constexpr double most_d50_ratio = 40.0, least_d15_ratio = 5.0, most_d15_ratio = 40.0, most_retention = 5.0;

// The four classes [nrcs-633-26].
constexpr Length least_class_1 = Length::millimetres(0.2), limit_class_2 = Length::millimetres(0.7);
constexpr Length least_drain_d15 = Length::millimetres(0.1);

std::optional<double> ratio(const Size& over, const Size& under) {
  if (!over || !under) return std::nullopt;
  return *over / *under;
}

std::optional<double> metres(const Size& size) { return size ? std::optional(size->metres()) : std::nullopt; }

std::vector<Judgement> by_river_manual(const GradingBand& base, const GradingBand& filter) {
  constexpr std::string_view source = "fhwa-river-manual";
  const auto d15_ratio = [](const GradingCurve& over, const GradingCurve& under) {
    return ratio(over.size_at(15), under.size_at(15));
  };
  return {
      judge(Rule::uniformity, Measure::ratio, ratio(filter.coarsest.size_at(50), base.finest.size_at(50)),
            at_most(most_d50_ratio), source),
      judge(Rule::permeability, Measure::ratio, d15_ratio(filter.finest, base.coarsest),
            at_least(least_d15_ratio), source),
      judge(Rule::not_too_coarse, Measure::ratio, d15_ratio(filter.coarsest, base.finest),
            at_most(most_d15_ratio), source),
      judge(Rule::retention, Measure::ratio, ratio(filter.coarsest.size_at(15), base.finest.size_at(85)),
            at_most(most_retention), source),
  };
}

std::vector<Judgement> by_earth_manual(const GradingBand& base, const GradingBand& filter) {
  constexpr std::string_view source = "usbr-earth-manual";
  const auto most_fines = filter.finest.finer_than(sieve_no_200);
  std::vector<Judgement> judged = {
      judge(Rule::retention, Measure::ratio, ratio(filter.coarsest.size_at(15), base.finest.size_at(85)),
            at_most(4.0, 5.0), source),
      judge(Rule::permeability, Measure::ratio, ratio(filter.finest.size_at(15), base.coarsest.size_at(15)),
            at_least(5.0, 4.0), source),
      judge(Rule::not_too_coarse, Measure::ratio, ratio(filter.coarsest.size_at(15), base.finest.size_at(15)),
            at_most(40.0), source),
      judge(Rule::few_fines, Measure::percent, most_fines, at_most(5.0), source),
  };
  return judged;
}

/// Least D15 of a filter that drains this soil, strict and loose [m].
std::optional<Limit> drain_limit(const GradingCurve& coarsest, const Size& most_d15, FilterEdition edition) {
  const Size d15 = edition == FilterEdition::nrcs_band ? most_d15 : coarsest.size_at(15);
  if (!d15) return std::nullopt;
  double strict = 5.0, loose = 5.0;
  if (edition == FilterEdition::nrcs_1994) strict = loose = 4.0;
  if (edition == FilterEdition::corps_2005) loose = 3.0;
  if (edition == FilterEdition::nrcs_band) strict = loose = 0.2;
  return at_least(std::max(strict * *d15, least_drain_d15).metres(),
                  std::max(loose * *d15, least_drain_d15).metres());
}

std::string_view drain_source(FilterEdition edition) {
  if (edition == FilterEdition::corps_2005) return "corps-em-1901";
  if (edition == FilterEdition::reclamation_2011) return "filter-evaluation";
  return "nrcs-633-26";
}

std::vector<Judgement> by_four_classes(const Soil& base, const GradingBand& filter, FilterEdition edition) {
  const Size most = greatest_filter_d15(base.grading.finest, base.dispersive, edition);
  const std::optional<Limit> keep = most ? std::optional(at_most(most->metres())) : std::nullopt;
  return {judge(Rule::retention, Measure::metres, metres(filter.coarsest.size_at(15)), keep, "nrcs-633-26"),
          judge(Rule::permeability, Measure::metres, metres(filter.finest.size_at(15)),
                drain_limit(base.grading.coarsest, most, edition), drain_source(edition))};
}

/// Greatest D90 that does not segregate, by the least D10, from memory [nrcs-633-26].
Length greatest_d90(Length d10) {
  constexpr double steps_mm[][2] = {{0.5, 20}, {1, 25}, {2, 30}, {5, 40}, {10, 50}};
  for (const auto& [below_mm, d90_mm] : steps_mm)
    if (d10 < Length::millimetres(below_mm)) return Length::millimetres(d90_mm);
  return Length::millimetres(60);
}

SizeBounds bounds(const Size& low, double times_low, const Size& high, double times_high) {
  return {low ? Size(*low * times_low) : Size(), high ? Size(*high * times_high) : Size()};
}

/// The tighter of two bounds on each side.
SizeBounds both(const SizeBounds& a, const SizeBounds& b) {
  SizeBounds tight = a;
  if (b.least && (!tight.least || *b.least > *tight.least)) tight.least = b.least;
  if (b.most && (!tight.most || *b.most < *tight.most)) tight.most = b.most;
  return tight;
}

}  // namespace

std::optional<Length> greatest_filter_d15(const GradingCurve& finest, bool dispersive,
                                          FilterEdition edition) {
  const std::optional<GradingCurve> soil = finest.passing(sieve_no_4);
  if (!soil) return std::nullopt;
  const std::optional<double> fines = soil->finer_than(sieve_no_200);
  if (!fines) return std::nullopt;
  if (*fines >= 40.0 && *fines <= 85.0) return limit_class_2;
  const Size d85 = soil->size_at(85);
  if (!d85) return std::nullopt;
  if (*fines > 85.0) {
    const double times = dispersive && edition == FilterEdition::nrcs_2017 ? 6.5 : 9.0;
    return std::max(times * *d85, least_class_1);
  }
  if (*fines < 15.0) return 4.0 * *d85;
  const Length coarse = std::max(4.0 * *d85, limit_class_2);
  return (40.0 - *fines) / 25.0 * (coarse - limit_class_2) + limit_class_2;
}

std::vector<Judgement> judge_filter(const Soil& base, const GradingBand& filter, FilterEdition edition) {
  switch (edition) {
    case FilterEdition::earth_manual_1960:
      return by_earth_manual(base.grading, filter);
    case FilterEdition::river_manual:
      return by_river_manual(base.grading, filter);
    case FilterEdition::nrcs_1994:
    case FilterEdition::nrcs_2017:
    case FilterEdition::nrcs_band:
    case FilterEdition::corps_2005:
    case FilterEdition::reclamation_2011:
      return by_four_classes(base, filter, edition);
  }
  return {};
}

std::vector<Judgement> judge_stone(const GradingBand& stone) {
  constexpr std::string_view source = "nrcs-633-26";
  const Size d10 = stone.finest.size_at(10);
  const std::optional<Limit> mix = d10 ? std::optional(at_most(greatest_d90(*d10).metres())) : std::nullopt;
  return {
      judge(Rule::largest_stone, Measure::metres, metres(stone.coarsest.size_at(100)), at_most(0.075),
            source),
      judge(Rule::few_fines, Measure::percent, stone.finest.finer_than(sieve_no_200), at_most(5.0), source),
      judge(Rule::segregation, Measure::metres, metres(stone.coarsest.size_at(90)), mix, source)};
}

FilterBounds filter_between(const GradingCurve& base, const GradingCurve& cover) {
  const Size base_15 = base.size_at(15), base_50 = base.size_at(50), base_85 = base.size_at(85);
  const Size cover_15 = cover.size_at(15), cover_50 = cover.size_at(50);
  FilterBounds found;
  // On the soil: D15 from 5 to 40 times the soil's, and at most 5 times its D85. Under the cover the same
  // ratios the other way round.
  found.d15 = both(both(bounds(base_15, least_d15_ratio, base_15, most_d15_ratio),
                        bounds({}, 1.0, base_85, most_retention)),
                   bounds(cover_15, 1.0 / most_d15_ratio, cover_15, 1.0 / least_d15_ratio));
  found.d50 = both(bounds({}, 1.0, base_50, most_d50_ratio), bounds(cover_50, 1.0 / most_d50_ratio, {}, 1.0));
  found.d85 = bounds(cover_15, 1.0 / most_retention, {}, 1.0);
  return found;
}

}  // namespace runnel::works
