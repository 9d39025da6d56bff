#pragma once
// Finds quickly which descents lie over a station. Not for users of the library.
#include <algorithm>
#include <array>
#include <utility>
#include <vector>

#include "runnel/air/reach_sweep.h"

namespace runnel::air {

class DescentIndex {
 public:
  explicit DescentIndex(const std::vector<CrestDescent>& descents) {
    for (const CrestDescent& d : descents)
      of(d.top).push_back({std::min(d.from_m, d.to_m), std::max(d.from_m, d.to_m)});
    for (auto& all : by_top_) {
      std::sort(all.begin(), all.end());
      for (std::size_t i = 1; i < all.size(); ++i) all[i].second = std::max(all[i].second, all[i - 1].second);
    }
  }

  /// Whether a descent with such a top lies over a station, its ends included.
  bool covers(Top top, double station_m) const {
    const auto& all = by_top_[static_cast<std::size_t>(top)];
    const auto after = std::upper_bound(all.begin(), all.end(), station_m,
                                        [](double s, const Stretch& d) { return s < d.first; });
    return after != all.begin() && (after - 1)->second >= station_m;
  }

 private:
  /// The lower station of a descent, and the highest that it or any before it reaches.
  using Stretch = std::pair<double, double>;
  std::vector<Stretch>& of(Top top) { return by_top_[static_cast<std::size_t>(top)]; }

  std::array<std::vector<Stretch>, 3> by_top_;
};

}  // namespace runnel::air
