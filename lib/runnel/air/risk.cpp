#include "runnel/air/risk.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace runnel::air {

Graded grade_crest(const CrestEvidence& e) {
  const bool shut_in = e.holds_air && !e.vented;
  if (!e.vented && e.start == StartVerdict::blocked && e.holds_air)
    return {Risk::high, CrestReason::helps_to_block};
  if (e.clearance_m && *e.clearance_m < 0.0)
    return {Risk::high, e.vented ? CrestReason::draws_air_in : CrestReason::air_comes_out};
  const bool thin = e.clearance_m && *e.clearance_m < e.wanted_clearance_m;
  if (shut_in && e.start == StartVerdict::doubtful) {
    const bool stays = e.swept == Swept::by_none;
    return {stays ? Risk::high : Risk::moderate,
            stays ? CrestReason::must_give_way_and_stays : CrestReason::must_give_way};
  }
  if (thin) return {Risk::moderate, CrestReason::close_to_grade};
  if (e.vented) return {Risk::low, CrestReason::air_valve_lets_out};
  if (shut_in && e.swept == Swept::by_none) return {Risk::moderate, CrestReason::current_leaves_air};
  if (shut_in && e.swept == Swept::by_some) return {Risk::moderate, CrestReason::some_laws_leave_air};
  if (shut_in && !e.swept) return {Risk::moderate, CrestReason::shut_in};
  if (shut_in) return {Risk::low, CrestReason::carried_off};
  return {Risk::low, CrestReason::open_descent};
}

std::vector<UncertainGrade> uncertain_grades(const Profile& profile, double survey_error_m) {
  std::vector<UncertainGrade> found;
  const double tolerance_m = 2.0 * survey_error_m;
  for (const StraightLeg& leg : straight_legs(profile)) {
    if (std::abs(leg.rise_m) > tolerance_m || leg.plan_m <= 0.0) continue;
    found.push_back({leg, profile.points[static_cast<std::size_t>(leg.first)].station_m,
                     profile.points[static_cast<std::size_t>(leg.last)].station_m, leg.rise_m, tolerance_m});
  }
  return found;
}

std::vector<int> lows_without_washout(const Profile& profile) {
  std::vector<int> lows;
  double from_m = profile.points.front().station_m;  // the crest before the low point
  const std::vector<Turn> all = turns(profile);
  for (std::size_t k = 0; k < all.size(); ++k) {
    const ProfilePoint here = profile.points[static_cast<std::size_t>(all[k].point)];
    if (all[k].crest) {
      from_m = here.station_m;
      continue;
    }
    const ProfilePoint next = k + 1 < all.size() ? profile.points[static_cast<std::size_t>(all[k + 1].point)]
                                                 : profile.points.back();
    const bool drained =
        std::any_of(profile.washouts.begin(), profile.washouts.end(), [&](const ProfilePart& w) {
          return w.station_m >= from_m && w.station_m <= next.station_m &&
                 elevation_at_m(profile, w.station_m) <= here.elevation_m + here.bore_m;
        });
    if (!drained) lows.push_back(all[k].point);
  }
  return lows;
}

}  // namespace runnel::air
