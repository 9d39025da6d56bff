#include "runnel/air/clearing.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "runnel/losses/cavity_drift.h"

namespace runnel::air {
namespace {

/// Calls visit(pipe, angle) for each piece of a leg. A piece that rises counts as level.
template <typename Visit>
void each_piece(const steady::PocketCourse& course, const steady::ShutAir& air, Visit&& visit) {
  for (auto i = static_cast<std::size_t>(air.crest); i < static_cast<std::size_t>(air.low); ++i) {
    const network::Passage& passage = course.passage;
    const double fall_m = std::max(0.0, passage.elevation_m(i) - passage.elevation_m(i + 1));
    visit(course.pipes[static_cast<std::size_t>(passage.pipe(i))],
          down_angle_rad(fall_m, passage.station_m(i + 1) - passage.station_m(i)));
  }
}

}  // namespace

bool law_in_range(ClearingLaw law, const steady::PocketCourse& course) {
  bool in_range = true;
  for (const steady::ShutAir& air : course.pockets)
    each_piece(course, air, [&](const losses::PipeFriction& pipe, double angle_rad) {
      for (const LawVelocity& said : sweep(pipe.bore_m(), angle_rad, 0.0).laws)
        if (said.law == law && !said.in_range) in_range = false;
    });
  return in_range;
}

double carrying_velocity_ms(ClearingLaw law, double bore_m, double down_angle_rad,
                            const ClearingOptions& options) {
  const double drift_ms =
      std::sqrt(options.gravity_ms2 * bore_m) * losses::plain_drift_froude(down_angle_rad);
  return std::max(clearing_velocity_ms(law, bore_m, down_angle_rad, options), drift_ms);
}

double carrying_flow_m3s(ClearingLaw law, const steady::PocketCourse& course, const steady::ShutAir& air,
                         const ClearingOptions& options) {
  double flow_m3s = 0.0;
  each_piece(course, air, [&](const losses::PipeFriction& pipe, double angle_rad) {
    flow_m3s =
        std::max(flow_m3s, pipe.area_m2() * carrying_velocity_ms(law, pipe.bore_m(), angle_rad, options));
  });
  return flow_m3s;
}

Clearing follow_clearing(ClearingLaw law, const steady::PocketCourse& course, const LineEnds& ends,
                         const ClearingOptions& options) {
  Clearing clearing{.law = law, .in_range = law_in_range(law, course), .steps = {}};
  std::vector<int> left(course.pockets.size()), gone;
  std::iota(left.begin(), left.end(), 0);
  do {
    const steady::PocketLaw line(without_pockets(course, gone));
    ClearingStep step;
    step.flow_m3s = line.flow_m3s(ends.source_head_m, ends.sink_head_m, ends.most_m3s);
    step.pockets = line.pockets(step.flow_m3s, ends.sink_head_m);
    step.left = left;
    for (int k : left)
      if (step.flow_m3s >
          carrying_flow_m3s(law, course, course.pockets[static_cast<std::size_t>(k)], options))
        step.carried.push_back(k);
    gone.insert(gone.end(), step.carried.begin(), step.carried.end());
    std::erase_if(left, [&](int k) { return std::find(gone.begin(), gone.end(), k) != gone.end(); });
    clearing.steps.push_back(std::move(step));
  } while (!clearing.end().carried.empty());
  return clearing;
}

std::vector<Clearing> follow_clearing(const steady::PocketCourse& course, const LineEnds& ends,
                                      const ClearingOptions& options) {
  std::vector<Clearing> all;
  for (const LawCard& card : clearing_laws()) all.push_back(follow_clearing(card.law, course, ends, options));
  return all;
}

}  // namespace runnel::air
