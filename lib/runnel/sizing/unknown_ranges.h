#pragma once
// How far each thing that is not known may lie from what is written.
#include "runnel/network/model.h"
#include "runnel/sizing/draws.h"

namespace runnel::sizing {

/// What a spring gives on average, by its bucket tests. Precondition: two tests at least.
struct YieldSpread {
  explicit YieldSpread(const network::Box& box);
  double drawn_m3s(Draws draws) const;

  double written_m3s = 0.0, deviation_m3s = 0.0;
  int degrees = 1;
};

/// Standard deviation of a surveyed point, and of the drift along the walk: half of what is stated.
double survey_deviation_m(const network::Pipeline& line);

}  // namespace runnel::sizing
