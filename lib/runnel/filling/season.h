#pragma once
// A year of supply against demand: how much storage bridges the dry part, and what a given tank covers.
// Within a period yield and demand are constant, so the stored volume has its extremes at period ends.
#include <optional>
#include <vector>

namespace runnel::filling {

/// A year in periods. All three vectors have the same size; lengths are positive and flows not negative.
struct Season {
  std::vector<double> length_s;
  std::vector<double> yield_m3s;
  std::vector<double> demand_m3s;
};

/// Lengths of 12 months (a common year, from January) or 52 equal weeks; both make 365 days.
std::vector<double> year_lengths_s(std::size_t periods);

struct StorageNeed {
  double yield_m3 = 0.0, demand_m3 = 0.0;  ///< of the year
  /// Least storage that never runs dry, year after year. None: the year yields less than is demanded, so no
  /// storage suffices.
  std::optional<double> storage_m3;
  std::size_t falls_from = 0;  ///< the first period in which the storage falls towards its lowest
  std::size_t lowest_at = 0;   ///< it is lowest at the end of this period; both mean nothing without storage
};

/// The sequent peak over two passes of the same year, so that a dry time across its end is seen whole.
/// Source: [sequent-peak].
StorageNeed storage_need(const Season& season);

struct Coverage {
  std::vector<double> end_m3;      ///< stored at the end of each period
  std::vector<double> missing_m3;  ///< of each period's demand
  std::vector<double> spilled_m3;
  std::vector<double> dry_s;     ///< time in each period in which the demand is not met
  double first_dry_years = 0.0;  ///< when the first water is missing, counted from full; 0 if never
  int years = 0;                 ///< years until one is like the next; the figures by period are of the last

  double missing_total_m3() const;
  double dry_days() const;
};

/// What a storage of `capacity_m3` >= 0, full at the start, covers once every year is like the one before:
/// yield less demand, kept between empty and full. Source: mass balance, [sequent-peak].
Coverage coverage(const Season& season, double capacity_m3);

}  // namespace runnel::filling
