#pragma once
// A figure judged by a published rule: the figure, the limit, the verdict and the source of the rule.
// Handbooks differ, and many give their limit as a span ("4 to 5"): on the safe side of the strict end a
// figure holds by every reading, beyond the loose end it fails by every reading, and in between it is
// undecided. An unknown figure is not judged; it never passes.
#include <optional>
#include <string_view>
#include <vector>

namespace runnel::works {

enum class Verdict { holds, fails, undecided, cannot_be_judged };

enum class Rule {
  retention,           ///< the coarser layer keeps the finer one back
  permeability,        ///< the coarser layer takes the water away
  not_too_coarse,      ///< D15 of the coarser over D15 of the finer
  uniformity,          ///< D50 of the coarser over D50 of the finer
  largest_stone,       ///< D100
  few_fines,           ///< share under 0.075 mm
  segregation,         ///< D90 for its D10: a wide mix segregates while it is placed
  pipe_opening,        ///< stone against the hole or slot of a pipe
  cloth_opening,       ///< largest opening of a cloth
  soil_over_opening,   ///< D85 of the soil over the opening of a cloth
  opening_over_soil,   ///< the opening of a cloth over D85 of the soil, by the uniformity of the soil
  cloth_permittivity,  ///< water through a cloth
  cloth_conductivity,  ///< conductivity of a cloth over that of the soil
  backwater,           ///< water behind a wall above the level where the spring came out
  wall_top,            ///< top of a wall above the highest ground beside it
  creep,               ///< path of the water under a wall, over the head that drives it
};

/// The unit of the figure and the limit.
enum class Measure { ratio, metres, percent, per_second };

enum class Sense { at_most, at_least };

struct Limit {
  Sense sense = Sense::at_most;
  double strict = 0.0;  ///< up to this a figure holds by every reading
  double loose = 0.0;   ///< beyond this a figure fails by every reading; equal to strict for a single limit
};

struct Judgement {
  Rule rule = Rule::retention;
  Measure measure = Measure::ratio;
  std::optional<double> figure;  ///< none if something needed for it was not given
  std::optional<Limit> limit;    ///< none if it depends on something that was not given
  Verdict verdict = Verdict::cannot_be_judged;
  std::string_view source;  ///< a key of the bibliography
};

Limit at_most(double strict, double loose);
Limit at_most(double limit);
Limit at_least(double strict, double loose);
Limit at_least(double limit);

/// A figure exactly on the limit holds.
Judgement judge(Rule rule, Measure measure, std::optional<double> figure, std::optional<Limit> limit,
                std::string_view source);

/// The worst of several verdicts, from worst: fails, cannot be judged, undecided, holds. An empty list holds.
Verdict worst_of(const std::vector<Judgement>& judgements);

}  // namespace runnel::works
