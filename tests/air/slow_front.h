#pragma once
// The front of the water in an empty line by a slow integration that shares no code with air/wet_part.h.
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "runnel/base/constants.h"
#include "runnel/losses/friction.h"
#include "steady/small_systems.h"

namespace runnel::test {

/// A box over one bore and straight legs, wide open at the end.
struct Dry {
  std::vector<std::pair<double, double>> points;
  double lip_m, yield_m3s, bore_m;

  network::Model model() const {
    network::Model s = small::empty();
    small::box(s, "spring", yield_m3s, points.front().second, lip_m);
    small::outlet(s, "trough", points.back().second);
    small::line(s, "main", "spring", "trough", bore_m, points);
    return s;
  }
};

/// The same front, stepped along the line from the source, each rate by bisection from the front back. One
/// pocket at most, whose leg is one straight piece.
class SlowFront {
 public:
  SlowFront(const Dry& dry, const network::System& system)
      : dry_(dry),
        pipe_(system.friction(), dry.bore_m, 1.5e-6, 150.0, system.site().water.kinematic_viscosity_m2s),
        atmosphere_m_(system.site().atmospheric_head_m()) {
    lengths_m_.push_back(0.0);
    for (std::size_t i = 1; i < dry.points.size(); ++i) lengths_m_.push_back(lengths_m_.back() + leg_m(i));
  }

  double seconds(int steps) const {
    double total_s = 0.0;
    for (int k = 0; k < steps; ++k)
      total_s +=
          pipe_.area_m2() * lengths_m_.back() / steps / rate_m3s(lengths_m_.back() * (k + 0.5) / steps);
    return total_s;
  }
  double rate_m3s(double front_m) const {
    if (need_m(front_m, dry_.yield_m3s) <= dry_.lip_m) return dry_.yield_m3s;
    double low = 0.0, high = dry_.yield_m3s;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      (need_m(front_m, middle) <= dry_.lip_m ? low : high) = middle;
    }
    return low;
  }

 private:
  double leg_m(std::size_t i) const {
    return std::hypot(dry_.points[i].first - dry_.points[i - 1].first,
                      dry_.points[i].second - dry_.points[i - 1].second);
  }
  double need_m(double front_m, double flow_m3s) const {
    const double velocity_m = std::pow(flow_m3s / pipe_.area_m2(), 2) / (2.0 * gravity_ms2);
    const double friction = pipe_.per_metre(std::max(flow_m3s, 1e-12)).head_m;
    std::size_t i = 1;
    while (i + 1 < lengths_m_.size() && lengths_m_[i] < front_m) ++i;
    const auto z = [&](std::size_t p) { return dry_.points[p].second; };
    const double share = (front_m - lengths_m_[i - 1]) / leg_m(i);
    double energy_m = z(i - 1) + share * (z(i) - z(i - 1)) + velocity_m;
    bool whole = share >= 1.0;
    for (; i > 0; --i) {
      const double run_m = whole ? leg_m(i) : front_m - lengths_m_[i - 1];
      const bool crest = i > 1 && z(i - 1) > z(i) && z(i - 1) > z(i - 2);
      const bool sealed = crest && whole && i + 1 < dry_.points.size();
      double top_m = std::max(energy_m + friction * run_m, z(i - 1) + velocity_m);
      if (sealed) top_m = std::max(top_m, z(i - 1) + gauge_m(i, energy_m, friction, velocity_m) + velocity_m);
      energy_m = top_m;
      whole = true;
    }
    return energy_m + 0.5 * velocity_m;
  }
  /// Pressure of the air in leg `i`: the full pipe below its surface against Boyle's law.
  double gauge_m(std::size_t i, double energy_low_m, double friction, double velocity_m) const {
    const double fall_m = dry_.points[i - 1].second - dry_.points[i].second;
    double low = 0.0, high = 1.0;  // share of the leg that is air
    const auto below_m = [&](double air) {
      const double surface_m = dry_.points[i - 1].second - air * fall_m;
      return energy_low_m + friction * leg_m(i) * (1.0 - air) - surface_m - velocity_m;
    };
    for (int k = 0; k < 60; ++k) {
      const double air = 0.5 * (low + high);
      (below_m(air) < atmosphere_m_ / air - atmosphere_m_ ? low : high) = air;
    }
    return std::max(0.0, below_m(low));
  }

  Dry dry_;
  losses::PipeFriction pipe_;
  double atmosphere_m_;
  std::vector<double> lengths_m_;
};

}  // namespace runnel::test
