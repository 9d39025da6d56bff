#include "runnel/review/works_terms.h"

#include <algorithm>
#include <cmath>

namespace runnel::review {

namespace {

/// Which of the words it is, by number.
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

/// Judges by a share of the printed limit, so that a set can ask for more than the handbook, or for less.
works::Judgement within_share(const works::Judgement& printed, double share) {
  if (!printed.limit || !printed.figure || share == 1.0 || !(share > 0.0)) return printed;
  works::Limit limit = *printed.limit;
  const double by = limit.sense == Sense::at_most ? share : 1.0 / share;
  limit.strict *= by;
  limit.loose *= by;
  return works::judge(printed.rule, printed.measure, printed.figure, limit, printed.source);
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

WorksRule words_of(works::Rule rule) {
  using works::Rule;
  switch (rule) {
    case Rule::retention:
      return {"filter-retention", "share of the printed filter-retention"};
    case Rule::permeability:
      return {"filter-permeability", "share of the printed filter-permeability"};
    case Rule::not_too_coarse:
      return {"filter-not-too-coarse", "share of the printed filter-not-too-coarse"};
    case Rule::uniformity:
      return {"filter-uniformity", "share of the printed filter-uniformity"};
    case Rule::largest_stone:
      return {"filter-largest-stone", "share of the printed filter-largest-stone"};
    case Rule::few_fines:
      return {"filter-few-fines", "share of the printed filter-few-fines"};
    case Rule::segregation:
      return {"filter-segregation", "share of the printed filter-segregation"};
    case Rule::pipe_opening:
      return {"filter-pipe-opening", "share of the printed filter-pipe-opening"};
    case Rule::cloth_opening:
      return {"cloth-opening", "share of the printed cloth-opening"};
    case Rule::soil_over_opening:
      return {"cloth-soil-over-opening", "share of the printed cloth-soil-over-opening"};
    case Rule::opening_over_soil:
      return {"cloth-opening-over-soil", "share of the printed cloth-opening-over-soil"};
    case Rule::cloth_permittivity:
      return {"cloth-permittivity", "share of the printed cloth-permittivity"};
    case Rule::cloth_conductivity:
      return {"cloth-conductivity", "share of the printed cloth-conductivity"};
    case Rule::backwater:
      return {"wall-backwater", "share of the printed wall-backwater"};
    case Rule::wall_top:
      return {"wall-top", "share of the printed wall-top"};
    case Rule::creep:
      break;
  }
  return {"wall-creep", "share of the printed wall-creep"};
}

std::optional<Ruling> ruling_of(const RuleSet& rules, const works::Judgement& printed, const Where& where) {
  const Rule* rule = rules.find(words_of(printed.rule).id);
  if (!rule) return std::nullopt;
  const works::Judgement judgement = within_share(printed, rule->limit.si);
  const Kind kind = kind_of(judgement.measure, judgement.rule);
  Ruling out{rule->id, rule->text, rule->weight};
  out.where = where;
  out.verdict = judgement.verdict;
  out.source = "[" + std::string(judgement.source) + "]";
  out.changed = rule->changed;
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
    out.missing = "what " + rule->id + " needs of the works at " + where.place;
  return out;
}

std::vector<Measure> edition_measures() {
  std::vector<Measure> out;
  for (int i = 0; i <= static_cast<int>(works::Rule::creep); ++i)
    out.push_back({words_of(static_cast<works::Rule>(i)).measure, Kind::percent,
                   "how much of the limit that the handbook prints is taken up"});
  return out;
}

}  // namespace runnel::review
