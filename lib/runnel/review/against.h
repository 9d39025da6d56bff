#pragma once
// Two proposals for one job, side by side: where rulings differ, what each place gets, and how much pipe.
#include <optional>
#include <string>
#include <vector>

#include "runnel/review/review.h"

namespace runnel::review {

/// The worst ruling of one rule in each; nullptr where the rule has nothing to say there. Points into the
/// reviews compared.
struct RuleBeside {
  std::string rule, text;
  const Ruling* first = nullptr;
  const Ruling* second = nullptr;
};

/// What arrives at a place of that name under one setting; none where the proposal has no such place or
/// setting.
struct PlaceBeside {
  std::string setting;  ///< "normal": as drawn
  std::string place;
  std::optional<double> first_m3s, second_m3s;
};

/// How both fare under a setting; nullptr: the proposal does not name it.
struct SettingBeside {
  std::string setting;
  const SettingOutcome* first = nullptr;
  const SettingOutcome* second = nullptr;
};

struct Comparison {
  std::vector<RuleBeside> rules;                   ///< those whose verdicts differ, or that fail in both
  std::vector<SettingBeside> settings;             ///< of either, as drawn first
  std::vector<PlaceBeside> places;                 ///< taps and tanks of either
  double first_pipe_m = 0.0, second_pipe_m = 0.0;  ///< slope length of all lines
};

/// One proposal with its review; both must outlive the comparison.
struct Reviewed {
  const network::Model& drawn;
  const Review& review;
};

Comparison compare(const Reviewed& first, const Reviewed& second);

}  // namespace runnel::review
