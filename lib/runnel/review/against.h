#pragma once
// Two proposals for one job, side by side: where their rulings differ, what each place gets, how much pipe.
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

/// What arrives at a place of that name; none: the proposal has no such place.
struct PlaceBeside {
  std::string place;
  std::optional<double> first_m3s, second_m3s;
};

struct Comparison {
  std::vector<RuleBeside> rules;                   ///< those whose verdicts differ, or that fail in both
  std::vector<PlaceBeside> places;                 ///< taps and tanks of either
  double first_pipe_m = 0.0, second_pipe_m = 0.0;  ///< slope length of all lines
};

/// One proposal with its review; both must outlive the comparison.
struct Reviewed {
  const network::System& system;
  const Review& review;
};

Comparison compare(const Reviewed& first, const Reviewed& second);

}  // namespace runnel::review
