#include "runnel/review/works_terms.h"

#include <algorithm>
#include <cmath>

namespace runnel::review {

namespace {

/// Which of the words it is.
std::optional<std::size_t> at_of(const std::vector<std::string>& words, const std::string& word) {
  const auto at = std::find(words.begin(), words.end(), word);
  if (at == words.end()) return std::nullopt;
  return static_cast<std::size_t>(at - words.begin());
}

bool about_wall(works::Rule rule) {
  return rule == works::Rule::backwater || rule == works::Rule::wall_top || rule == works::Rule::creep;
}

Kind kind_of(works::Measure measure, works::Rule rule) {
  switch (measure) {
    case works::Measure::metres:
      return about_wall(rule) ? Kind::length : Kind::bore;
    case works::Measure::percent:
      return Kind::percent;
    case works::Measure::ratio:
    case works::Measure::per_second:
      break;
  }
  return Kind::number;
}

/// Judgements count per cent as such, figures as a ratio.
double si_of(works::Measure measure, double value) {
  return measure == works::Measure::percent ? value / 100.0 : value;
}

}  // namespace

std::optional<works::GradingCurve> grading_of(const std::vector<network::Sieve>& sieves) {
  std::vector<works::SievePoint> points;
  for (const network::Sieve& sieve : sieves) points.push_back({sieve.size, 100.0 * sieve.finer});
  return works::GradingCurve::from_sieves(std::move(points));
}

works::FilterEdition edition_of(const std::string& words) {
  const auto at = at_of(network::filter_rules_words(), words);
  return at ? static_cast<works::FilterEdition>(*at) : works::FilterEdition::nrcs_2017;
}

std::optional<works::Ground> ground_of(const std::string& word) {
  const auto at = at_of(network::ground_words(), word);
  return at ? std::optional(static_cast<works::Ground>(*at)) : std::nullopt;
}

std::optional<works::Keeps> keeps_of(const std::string& word) {
  using works::Keeps;
  static constexpr Keeps in_order[] = {Keeps::clear_uphill, Keeps::clear_sideways, Keeps::clear_downhill,
                                       Keeps::sewer,        Keeps::manure,         Keeps::stock,
                                       Keeps::latrine,      Keeps::privy_uphill,   Keeps::fence_radius,
                                       Keeps::ditch_outfall};
  const auto at = at_of(network::distance_words(), word);
  return at ? std::optional(in_order[*at]) : std::nullopt;
}

WorksRule words_of(works::Rule rule) {
  using works::Rule;
  switch (rule) {
    case Rule::retention:
      return {"filter-retention", "The layer is fine enough to keep back what lies before it."};
    case Rule::permeability:
      return {"filter-permeability", "The layer is coarse enough to take the water away."};
    case Rule::not_too_coarse:
      return {"filter-not-too-coarse", "The layer is not too coarse for what lies before it, by D15."};
    case Rule::uniformity:
      return {"filter-uniformity", "The layer is graded like what lies before it, by D50."};
    case Rule::largest_stone:
      return {"filter-largest-stone", "No stone of the layer is too large."};
    case Rule::few_fines:
      return {"filter-few-fines", "The stone is washed: few fines."};
    case Rule::segregation:
      return {"filter-segregation", "The stone does not come apart while it is placed."};
    case Rule::pipe_opening:
      return {"filter-pipe-opening", "The stone does not fall through the holes of the pipe."};
    case Rule::cloth_opening:
      return {"cloth-opening", "The cloth's openings suit the soil."};
    case Rule::soil_over_opening:
      return {"cloth-soil-over-opening", "The soil's coarse grains do not pass the cloth."};
    case Rule::opening_over_soil:
      return {"cloth-opening-over-soil", "The cloth's openings suit the grading of the soil."};
    case Rule::cloth_permittivity:
      return {"cloth-permittivity", "The cloth lets the water through."};
    case Rule::cloth_conductivity:
      return {"cloth-conductivity", "The cloth conducts water better than the soil."};
    case Rule::backwater:
      return {"wall-backwater", "The wall does not hold the spring up."};
    case Rule::wall_top:
      return {"wall-top", "The wall stands above the highest ground beside it."};
    case Rule::creep:
      break;
  }
  return {"wall-creep", "The water's way under the wall is long enough for the head against it."};
}

Ruling ruling_of(const works::Judgement& judgement, const Where& where) {
  const WorksRule words = words_of(judgement.rule);
  const Kind kind = kind_of(judgement.measure, judgement.rule);
  Ruling out{words.id, words.text};
  out.where = where;
  out.verdict = judgement.verdict;
  out.source = "[" + std::string(judgement.source) + "]";
  if (judgement.limit) {
    out.sense = judgement.limit->sense;
    out.limit = Figure{kind, si_of(judgement.measure, judgement.limit->strict)};
  }
  if (judgement.figure) {
    out.figure = Figure{kind, si_of(judgement.measure, *judgement.figure)};
    out.low_si = out.high_si = out.figure->si;
  }
  if (out.figure && out.limit)
    out.margin_si =
        out.sense == Sense::at_most ? out.limit->si - out.figure->si : out.figure->si - out.limit->si;
  if (out.verdict == Verdict::cannot_be_judged)
    out.missing = std::string("what ") + words.id + " needs of the works at " + where.place;
  return out;
}

}  // namespace runnel::review
