#include "runnel/filling/season.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace runnel::filling {
namespace {

constexpr double day_length_s = 86400.0;

double gain_m3(const Season& s, std::size_t p) { return (s.yield_m3s[p] - s.demand_m3s[p]) * s.length_s[p]; }

/// What one period brings about in a storage.
struct Period {
  double end_m3 = 0.0, missing_m3 = 0.0, spilled_m3 = 0.0, dry_s = 0.0;
};

Period pass(const Season& s, std::size_t p, double yield_m3s, double start_m3, double capacity_m3) {
  const double surplus_m3s = yield_m3s - s.demand_m3s[p];
  const double end = start_m3 + surplus_m3s * s.length_s[p];
  // A shortage that is only rounding of the volumes does not make the tank dry.
  const double grain = 1e-12 * (start_m3 + (yield_m3s + s.demand_m3s[p]) * s.length_s[p]);
  if (end < -grain) return {0.0, -end, 0.0, -end / -surplus_m3s};
  if (end > capacity_m3) return {capacity_m3, 0.0, end - capacity_m3, 0.0};
  return {std::max(end, 0.0), 0.0, 0.0, 0.0};
}

}  // namespace

std::vector<double> year_lengths_s(std::size_t periods) {
  if (periods != 12) return std::vector<double>(periods, 365.0 * day_length_s / static_cast<double>(periods));
  std::vector<double> lengths{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  for (double& length : lengths) length *= day_length_s;
  return lengths;
}

StorageNeed storage_need(const Season& season) {
  StorageNeed need;
  const std::size_t n = season.length_s.size();
  for (std::size_t p = 0; p < n; ++p) {
    need.yield_m3 += season.yield_m3s[p] * season.length_s[p];
    need.demand_m3 += season.demand_m3s[p] * season.length_s[p];
  }
  // Equal to within rounding is enough, as the storage then just comes back to where it began.
  if (need.yield_m3 < need.demand_m3 * (1.0 - 1e-12)) return need;
  double deficit_m3 = 0.0, worst_m3 = 0.0;
  std::size_t from = 0;
  for (std::size_t i = 0; i < 2 * n; ++i) {
    const std::size_t p = i % n;
    if (deficit_m3 == 0.0) from = p;
    deficit_m3 = std::max(0.0, deficit_m3 - gain_m3(season, p));
    if (deficit_m3 <= worst_m3) continue;
    worst_m3 = deficit_m3;
    need.falls_from = from;
    need.lowest_at = p;
  }
  need.storage_m3 = worst_m3;
  return need;
}

double Coverage::missing_total_m3() const {
  return std::accumulate(missing_m3.begin(), missing_m3.end(), 0.0);
}
double Coverage::dry_days() const { return std::accumulate(dry_s.begin(), dry_s.end(), 0.0) / day_length_s; }

Coverage coverage(const Season& season, double capacity_m3) {
  constexpr int most_years = 10000;  // a tank that takes longer than that to run dry lasts
  Coverage out;
  const std::size_t n = season.length_s.size();
  const double year_s = std::accumulate(season.length_s.begin(), season.length_s.end(), 0.0);
  double stored_m3 = capacity_m3, elapsed_s = 0.0;
  bool dry = false;
  for (out.years = 0; out.years < most_years;) {
    const double began_m3 = stored_m3;
    out.end_m3.clear(), out.missing_m3.clear(), out.spilled_m3.clear(), out.dry_s.clear();
    for (std::size_t p = 0; p < n; ++p) {
      const Period period = pass(season, p, season.yield_m3s[p], stored_m3, capacity_m3);
      elapsed_s += season.length_s[p];
      if (!dry && period.dry_s > 0.0) out.first_dry_years = (elapsed_s - period.dry_s) / year_s;
      dry = dry || period.dry_s > 0.0;
      stored_m3 = period.end_m3;
      out.end_m3.push_back(period.end_m3);
      out.missing_m3.push_back(period.missing_m3);
      out.spilled_m3.push_back(period.spilled_m3);
      out.dry_s.push_back(period.dry_s);
    }
    ++out.years;
    if (std::abs(stored_m3 - began_m3) <= 1e-12 * capacity_m3) break;
  }
  return out;
}

}  // namespace runnel::filling
