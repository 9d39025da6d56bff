#include "runnel/filling/rest_watch.h"

#include <algorithm>
#include <cmath>

namespace runnel::filling {
namespace {

// Net inflows below this share of the largest flow count as rest: ten times what flows are settled to.
constexpr double rest_share = 1e-9;
// Volumes that differ by less than this share of the capacity from one day, or from one opening of a float
// valve, to the next are the same: ten times the error of the integration in a day of ordinary steps.
constexpr double same_share = 1e-7;
// The run stops at every midnight, so only the rounding of the time has to be allowed for.
constexpr double midnight_s = 1e-6;
// A tank that sinks in a day by less than this share of its capacity lasts for decades.
constexpr double sinks_share = 1e-4;

}  // namespace

/// As float valves open and shut and herds drink, what counts is how high the water comes each day.
void RestWatch::look_for_sinking(double time_s, const Eigen::VectorXd& volume) {
  highest_ = highest_.cwiseMax(volume);
  if (time_s < day_began_s_ + day_s - midnight_s) return;
  sinks_ = false;
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    const auto k = static_cast<Eigen::Index>(i);
    sinks_ = sinks_ || highest_before_[k] - highest_[k] > sinks_share * basins_.stores()[i].lip_m3;
  }
  highest_before_ = highest_;
  highest_ = volume;
  day_began_s_ = time_s;
}

bool RestWatch::same(const Eigen::VectorXd& volume, const Eigen::VectorXd& before) const {
  bool same = true;
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    const auto k = static_cast<Eigen::Index>(i);
    same = same && std::abs(volume[k] - before[k]) <= same_share * basins_.stores()[i].lip_m3;
  }
  return same;
}

void RestWatch::float_opened(const std::string& valve, const Eigen::VectorXd& volume) {
  Openings& seen = openings_[valve];
  repeats_ = repeats_ || (seen.count > 0 && same(volume, seen.last_volume));
  seen.last_volume = volume;
  ++seen.count;
}

bool RestWatch::some_opened_less_than(int times) const {
  return std::any_of(openings_.begin(), openings_.end(),
                     [&](const auto& valve) { return valve.second.count < times; });
}

void RestWatch::look(double time_s, const Eigen::VectorXd& volume, const Eigen::VectorXd& rate) {
  look_for_sinking(time_s, volume);
  if (basins_.steady_draws()) {
    const double most = rate.size() > 0 ? rate.cwiseAbs().maxCoeff() : 0.0;
    if (most <= rest_share * basins_.flow_scale()) kind_ = RestKind::rest;
    return;
  }
  if (std::abs(std::remainder(time_s, day_s)) > midnight_s || time_s < 1.0) return;
  kind_ = same(volume, yesterday_) ? RestKind::daily : RestKind::no;
  yesterday_ = volume;
}

}  // namespace runnel::filling
