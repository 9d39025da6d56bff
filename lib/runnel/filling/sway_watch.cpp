#include "runnel/filling/sway_watch.h"

#include <algorithm>

namespace runnel::filling {
namespace {

// A storage whose lowest level falls from one day to the next by less than this share of its capacity takes
// years to empty. Every hour of the day belongs to a while.
constexpr double shortest_while_s = day_s;
constexpr double lower_share = 1e-3;
// So much the mean of a few cycles differs from that of the next few where those of several float valves do
// not fall together. A judgement.
constexpr double lower_mean_share = 1e-2;
constexpr int enough_openings = 4;

}  // namespace

void SwayWatch::begin(const Eigen::VectorXd& volume) {
  now_ = {0.0, volume, volume};
  seen_ = volume;
  sways_.assign(basins_.size(), 0);
}

bool SwayWatch::long_enough(double time_s) const {
  if (openings_.empty() || time_s - now_.began_s < std::max(shortest_while_s, now_.began_s)) return false;
  return std::all_of(openings_.begin(), openings_.end(),
                     [](const auto& valve) { return valve.second >= enough_openings; });
}

bool SwayWatch::as_low_as_before(std::size_t storage) const {
  if (before_.lowest.size() == 0) return false;
  const auto k = static_cast<Eigen::Index>(storage);
  const double whole_m3 = basins_.stores()[storage].lip_m3;
  return before_.lowest[k] - now_.lowest[k] <= lower_share * whole_m3 &&
         before_.mean[k] - now_.mean[k] <= lower_mean_share * whole_m3;
}

void SwayWatch::look(double time_s, const Eigen::VectorXd& volume) {
  now_.lowest = now_.lowest.cwiseMin(volume);
  if (time_s > seen_s_)
    now_.mean += (time_s - seen_s_) / (time_s - now_.began_s) * (0.5 * (volume + seen_) - now_.mean);
  seen_s_ = time_s;
  seen_ = volume;
  if (!long_enough(time_s)) return;
  for (std::size_t i = 0; i < sways_.size(); ++i) sways_[i] = as_low_as_before(i) ? 1 : 0;
  before_ = now_;
  now_ = {time_s, volume, volume};
  for (auto& [valve, times] : openings_) times = 0;
}

}  // namespace runnel::filling
