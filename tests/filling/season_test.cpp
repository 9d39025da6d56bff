// Sources of the numbers: closed forms worked by hand beside them, and a brute force of its own.
#include "runnel/filling/season.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace runnel::filling;

namespace {

constexpr double day = 86400.0;

Season flat(double yield, double demand) {
  return {year_lengths_s(12), std::vector<double>(12, yield), std::vector<double>(12, demand)};
}

/// Smallest storage that never runs dry, knowing nothing of deficits: simulate ten years in thin slices from
/// full, and bisect on the capacity.
bool survives(const Season& s, double capacity_m3) {
  double stored = capacity_m3;
  for (int year = 0; year < 10; ++year)
    for (std::size_t p = 0; p < s.length_s.size(); ++p)
      for (int slice = 0; slice < 8; ++slice) {
        stored += (s.yield_m3s[p] - s.demand_m3s[p]) * s.length_s[p] / 8.0;
        if (stored < -1e-9) return false;
        if (stored > capacity_m3) stored = capacity_m3;
      }
  return true;
}

double brute_force_m3(const Season& s) {
  double low = 0.0, high = 1e7;
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (survives(s, middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace

TEST_CASE("a year of months and a year of weeks have 365 days") {
  for (const std::size_t n : {12U, 52U}) {
    double sum = 0.0;
    for (const double length : year_lengths_s(n)) sum += length;
    CHECK(sum == Approx(365.0 * day).epsilon(1e-14));
    CHECK(year_lengths_s(n).size() == n);
  }
  CHECK(year_lengths_s(12)[1] == 28.0 * day);  // February of a common year
}

TEST_CASE("a spring that always gives enough needs no storage, one that never does is helped by none") {
  CHECK(storage_need(flat(2e-5, 1e-5)).storage_m3.value() == 0.0);
  CHECK(storage_need(flat(1e-5, 1e-5)).storage_m3.value() == 0.0);
  const StorageNeed need = storage_need(flat(1e-5, 1.5e-5));
  CHECK_FALSE(need.storage_m3);
  CHECK(need.yield_m3 == Approx(1e-5 * 365 * day).epsilon(1e-13));  // 315.36 m3
  CHECK(need.demand_m3 == Approx(1.5e-5 * 365 * day).epsilon(1e-13));
  // A tank of 43.2 m3 lasts 43.2 / 0.5e-5 s = 100 days, and ever after 5e-6 m3/s are missing.
  const Coverage c = coverage(flat(1e-5, 1.5e-5), 43.2);
  CHECK(c.first_dry_years * 365.0 == Approx(100.0).epsilon(1e-12));
  CHECK(c.missing_total_m3() == Approx(0.5e-5 * 365 * day).epsilon(1e-12));  // 157.68 m3
  CHECK(c.dry_days() == Approx(365.0).epsilon(1e-12));
}

TEST_CASE("two seasons: storage is the deficit times its duration, also across the end of the year") {
  // Dry June to September, 30 + 31 + 31 + 30 = 122 days, 2e-5 m3/s short: 2e-5 * 122 * 86400 = 210.816 m3.
  Season s = flat(5e-5, 3e-5);
  for (const std::size_t p : {5U, 6U, 7U, 8U}) s.yield_m3s[p] = 1e-5;
  const StorageNeed need = storage_need(s);
  CHECK(need.storage_m3.value() == Approx(210.816).epsilon(1e-13));
  CHECK(need.falls_from == 5);
  CHECK(need.lowest_at == 8);
  // Dry November to February, 30 + 31 + 31 + 28 = 120 days: 207.36 m3.
  Season winter = flat(5e-5, 3e-5);
  for (const std::size_t p : {10U, 11U, 0U, 1U}) winter.yield_m3s[p] = 1e-5;
  const StorageNeed frozen = storage_need(winter);
  CHECK(frozen.storage_m3.value() == Approx(207.36).epsilon(1e-13));
  CHECK(frozen.falls_from == 10);
  CHECK(frozen.lowest_at == 1);
  // Half of it lasts half the time: 60 days dry, 103.68 m3 missing, the dry ones in January and February
  // and the last day of December (60 days of deficit end on 30 December).
  const Coverage half = coverage(winter, 103.68);
  CHECK(half.dry_days() == Approx(60.0).epsilon(1e-12));
  CHECK(half.missing_total_m3() == Approx(103.68).epsilon(1e-12));
  CHECK(half.dry_s[11] / day == Approx(1.0).epsilon(1e-10));
  CHECK(half.dry_s[0] / day == Approx(31.0).epsilon(1e-12));
  CHECK(half.missing_m3[5] == 0.0);
  // Just enough is enough.
  CHECK(coverage(winter, 207.36 * (1 + 1e-12)).dry_days() == 0.0);
}

TEST_CASE("the sequent peak is the smallest storage that a simulation survives with") {
  std::mt19937_64 random(17);
  const auto uniform = [&] { return static_cast<double>(random() >> 11U) * 0x1p-53; };
  int needed = 0;
  for (int trial = 0; trial < 200; ++trial) {
    const std::size_t n = trial % 2 ? 12 : 52;
    Season s{year_lengths_s(n), {}, {}};
    for (std::size_t p = 0; p < n; ++p) {
      s.yield_m3s.push_back(2e-5 + 8e-5 * uniform());
      s.demand_m3s.push_back(7e-5 * uniform());
    }
    const StorageNeed need = storage_need(s);
    INFO("trial " << trial);
    if (!need.storage_m3) continue;
    ++needed;
    // The simulation lets 1e-9 m3 pass.
    CHECK(*need.storage_m3 == Approx(brute_force_m3(s)).epsilon(1e-9).margin(1e-8));
    CHECK(coverage(s, *need.storage_m3 * (1 + 1e-9)).dry_days() == 0.0);
    if (*need.storage_m3 > 1.0) CHECK(coverage(s, *need.storage_m3 * 0.99).dry_days() > 0.0);
  }
  CHECK(needed > 100);
}

TEST_CASE("every drop of a covered year is drawn, spilled or stored") {
  Season s{year_lengths_s(12),
           {9e-5, 8e-5, 7e-5, 5e-5, 3e-5, 1e-5, 1e-5, 1e-5, 2e-5, 4e-5, 6e-5, 8e-5},
           std::vector<double>(12, 4e-5)};
  for (const double capacity : {0.0, 20.0, 150.0, 500.0}) {
    const Coverage c = coverage(s, capacity);
    double in = 0.0, asked = 0.0, spilled = 0.0;
    for (std::size_t p = 0; p < 12; ++p) {
      in += s.yield_m3s[p] * s.length_s[p];
      asked += s.demand_m3s[p] * s.length_s[p];
      spilled += c.spilled_m3[p];
      CHECK(c.end_m3[p] >= 0.0);
      CHECK(c.end_m3[p] <= capacity);
    }
    // A repeating year stores nothing.
    CHECK(in - spilled == Approx(asked - c.missing_total_m3()).epsilon(1e-12));
  }
}
