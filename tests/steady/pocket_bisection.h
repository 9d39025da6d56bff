#pragma once
// Random single lines with pockets of air, and what they ask for by bisection from the end back. It shares
// no code with the law it is held against: its own friction, and the pressure of each pocket by bisection on
// "is there a place in the air's own volume, or at its edge, where the water below stands under that
// pressure?"
#include <algorithm>
#include <cmath>
#include <optional>
#include <random>
#include <vector>

#include "runnel/steady/pocket_course.h"

namespace runnel::test {

/// Where the points of a course lie, and the same course laid otherwise.
inline std::vector<network::CoursePoint> laid(const steady::PocketCourse& course) {
  return course.passage.legs().front().course.points();
}
inline void lay(steady::PocketCourse& course, std::vector<network::CoursePoint> points) {
  course.passage = network::Passage(network::Course(std::move(points)));
}

struct LaidPipe {
  double bore_m, roughness_m;
};

class PocketLine {
 public:
  static constexpr double viscosity_m2s = 1.3e-6, gravity = 9.80665;

  std::vector<double> station_m, elevation_m, local_k, floor_m;  ///< one a point
  std::vector<double> length_m;                                  ///< one a reach
  std::vector<int> pipe;
  std::vector<LaidPipe> pipes;
  struct Air {
    int crest, low;
    std::optional<double> volume_m3;
  };
  std::vector<Air> air;
  double entrance_k = 0.5, exit_k = 1.0, atmosphere_m = 10.3;

  double area_m2(std::size_t reach) const {
    const double bore = pipes[static_cast<std::size_t>(pipe[reach])].bore_m;
    return std::acos(-1.0) / 4.0 * bore * bore;
  }
  double velocity_head_m(std::size_t reach, double flow) const {
    return std::pow(flow / area_m2(reach), 2) / (2.0 * gravity);
  }
  void measure() {
    length_m.clear();
    for (std::size_t i = 0; i + 1 < station_m.size(); ++i)
      length_m.push_back(std::hypot(station_m[i + 1] - station_m[i], elevation_m[i + 1] - elevation_m[i]));
  }

  steady::PocketCourse course() const {
    steady::PocketCourse out;
    const losses::FrictionLaw law;
    for (const LaidPipe& p : pipes)
      out.pipes.emplace_back(law, p.bore_m, p.roughness_m, 140.0, viscosity_m2s);
    const auto per_square = [&](double k, std::size_t reach) { return k * velocity_head_m(reach, 1.0); };
    const std::size_t reaches = length_m.size();
    std::vector<network::CoursePoint> points;
    for (std::size_t i = 0; i <= reaches; ++i) {
      out.points.push_back({per_square(local_k[i], std::min(i, reaches - 1)), floor_m[i]});
      points.push_back({.station_m = station_m[i],
                        .elevation_m = elevation_m[i],
                        .length_m = i < reaches ? length_m[i] : 0.0,
                        .pipe = pipe[std::min(i, reaches - 1)]});
    }
    lay(out, std::move(points));
    out.entrance_s2m5 = per_square(entrance_k, 0);
    out.exit_s2m5 = per_square(exit_k, reaches - 1);
    out.atmospheric_head_m = atmosphere_m;
    for (const Air& a : air) out.pockets.push_back({a.crest, a.low, a.volume_m3});
    return out;
  }

  struct Asked {
    double head_m = 0.0;
    std::vector<double> gauge_m, volume_m3;  ///< of the pockets, from the end back
  };

  Asked asked(double flow, double sink_m) const {
    Asked out;
    std::vector<double> per_metre;
    for (const LaidPipe& p : pipes) per_metre.push_back(friction_slope(p, flow));
    const std::size_t reaches = length_m.size();
    double energy =
        std::max(sink_m, floor_m[reaches]) + (exit_k + local_k[reaches]) * velocity_head_m(reaches - 1, flow);
    energy = std::max(energy, floor_m[reaches] + velocity_head_m(reaches - 1, flow));
    std::vector<double> below(reaches), above(reaches);  // energy at the ends of each reach
    for (std::size_t i = reaches; i-- > 0;) {
      below[i] = energy;
      above[i] = energy + per_metre[static_cast<std::size_t>(pipe[i])] * length_m[i];
      double stands = floor_m[i];
      for (const Air& a : air)
        if (a.crest == static_cast<int>(i) && a.volume_m3.value_or(1.0) > 0.0) {
          const auto [gauge, volume] = settled(a, above, below, flow);
          out.gauge_m.push_back(gauge);
          out.volume_m3.push_back(volume);
          stands = std::max(stands, elevation_m[i] + gauge);
        }
      energy = std::max(above[i], stands + velocity_head_m(i, flow)) + local_k[i] * velocity_head_m(i, flow);
      if (i > 0) energy = std::max(energy, stands + velocity_head_m(i - 1, flow));
    }
    out.head_m = energy + entrance_k * velocity_head_m(0, flow);
    return out;
  }

  double flow(double source_m, double sink_m) const {
    if (asked(0.0, sink_m).head_m >= source_m) return 0.0;
    double low = 0.0, high = 1e-9;
    while (asked(high, sink_m).head_m < source_m) high *= 8.0;
    for (int i = 0; i < 70; ++i) {
      const double q = 0.5 * (low + high);
      (asked(q, sink_m).head_m < source_m ? low : high) = q;
    }
    return low;
  }

 private:
  /// Colebrook-White by repetition, 64/Re below 2000, between them the cubic in Re that joins both.
  static double friction_slope(const LaidPipe& p, double flow) {
    if (flow == 0.0) return 0.0;
    const double velocity = 4.0 * flow / (std::acos(-1.0) * p.bore_m * p.bore_m);
    const double re = velocity * p.bore_m / viscosity_m2s, rough = p.roughness_m / p.bore_m;
    const auto turbulent = [&](double reynolds) {
      double x = 8.0;
      for (int i = 0; i < 40; ++i) x = -2.0 * std::log10(rough / 3.7 + 2.51 * x / reynolds);
      return 1.0 / (x * x);
    };
    double f = 0.0;
    if (re <= 2000.0) {
      f = 64.0 / re;
    } else if (re >= 4000.0) {
      f = turbulent(re);
    } else {
      const double t = (re - 2000.0) / 2000.0, step = 0.05;  // the slope at 4000 by a fourth-order difference
      const double slope = (8.0 * (turbulent(4000.0 + step) - turbulent(4000.0 - step)) -
                            (turbulent(4000.0 + 2 * step) - turbulent(4000.0 - 2 * step))) /
                           (12.0 * step);
      f = (1 + 2 * t) * (1 - t) * (1 - t) * 0.032 + t * (1 - t) * (1 - t) * 2000.0 * -1.6e-5 +
          t * t * (3 - 2 * t) * turbulent(4000.0) + t * t * (t - 1) * 2000.0 * slope;
    }
    return f / p.bore_m * velocity * velocity / (2.0 * gravity);
  }

  /// Gauge head and volume of one pocket, from the energies at the ends of the reaches of its leg.
  std::pair<double, double> settled(const Air& a, const std::vector<double>& above,
                                    const std::vector<double>& below, double flow) const {
    double whole = 0.0;
    const auto first = static_cast<std::size_t>(a.crest), last = static_cast<std::size_t>(a.low);
    for (std::size_t i = first; i < last; ++i) whole += length_m[i] * area_m2(i);
    const double start = a.volume_m3.value_or(whole);
    const auto stands_under = [&](double gauge) {
      double room = start * atmosphere_m / (atmosphere_m + gauge);  // what the air takes under that pressure
      double credit = 1e300;
      for (std::size_t i = first; i < last; ++i) {
        credit = std::min(credit, velocity_head_m(i, flow));
        const double share = std::min(1.0, room / (length_m[i] * area_m2(i)));
        const auto water = [&](double t) {
          return above[i] + t * (below[i] - above[i]) - credit -
                 (elevation_m[i] + t * (elevation_m[i + 1] - elevation_m[i]));
        };
        if (water(0.0) >= gauge || water(share) >= gauge) return true;
        if (share < 1.0) return false;
        room -= length_m[i] * area_m2(i);
      }
      return false;
    };
    double low = 0.0, high = 1.0;
    if (stands_under(0.0)) {
      while (stands_under(high)) low = std::exchange(high, 2.0 * high);
      for (int i = 0; i < 55; ++i) {
        const double g = 0.5 * (low + high);
        (stands_under(g) ? low : high) = g;
      }
    }
    return {low, std::min(whole, start * atmosphere_m / (atmosphere_m + low))};
  }
};

/// Draws lines with 1 to `most_crests` crests that hold air: legs of 1 to 4 straight pieces, 1 to 3 bores.
class PocketLines {
 public:
  explicit PocketLines(std::uint64_t seed) : random_(seed) {}

  double source_m = 0.0, sink_m = 0.0;  ///< of the last line drawn

  PocketLine draw(int most_crests = 5) {
    PocketLine line;
    line.atmosphere_m = between(6.5, 10.4);
    line.exit_k = chance(0.3) ? 0.0 : between(1.0, 5.0);
    double x = 0.0, z = between(40.0, 90.0);
    const double top_m = z;
    const bool open = chance(0.7);
    const auto point = [&] {
      line.station_m.push_back(x);
      line.elevation_m.push_back(z);
      line.local_k.push_back(chance(0.15) ? between(0.0, 5.0) : 0.0);
      line.floor_m.push_back(open ? z : z - between(3.0, 9.0));
    };
    const auto leg = [&](double swing_m) {
      const int pieces = whole(1, 4);
      for (int k = 0; k < pieces; ++k) {
        x += between(2.0, 120.0);
        z += chance(0.1) ? 0.0 : swing_m / pieces * between(0.1, 1.9);
        point();
      }
    };
    point();
    leg(-between(0.5, 8.0));
    for (int crests = whole(1, most_crests); crests > 0; --crests) {
      leg(between(0.3, 6.0));
      const int crest = static_cast<int>(line.station_m.size()) - 1;
      leg(-between(0.3, 10.0));
      std::optional<double> volume;
      if (chance(0.15)) volume = chance(0.2) ? 0.0 : between(0.0, 0.4);
      line.air.push_back({crest, static_cast<int>(line.station_m.size()) - 1, volume});
    }
    if (chance(0.8)) {
      leg(between(0.3, 4.0));
      leg(-between(1.0, 40.0));  // the last leg ends in the open
    }
    const int bores = whole(1, 3);
    for (int k = 0; k < bores; ++k)
      line.pipes.push_back({between(0.012, 0.09), chance(0.5) ? 1.5e-6 : 1.5e-4});
    const std::size_t reaches = line.station_m.size() - 1;
    int laid = 0;
    for (std::size_t i = 0; i < reaches; ++i) {
      if (bores > 1 && chance(0.2)) laid = whole(0, bores - 1);
      line.pipe.push_back(laid);
    }
    line.measure();
    sink_m = z + (chance(0.4) ? between(0.0, 6.0) : 0.0);
    source_m = top_m + between(0.1, 3.0);
    return line;
  }

  double between(double a, double b) { return std::uniform_real_distribution<>(a, b)(random_); }
  bool chance(double p) { return between(0.0, 1.0) < p; }
  int whole(int a, int b) { return std::uniform_int_distribution<>(a, b)(random_); }

 private:
  std::mt19937_64 random_;
};

}  // namespace runnel::test
