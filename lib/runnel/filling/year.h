#pragma once
// The year of a model: which springs and tanks belong together, and what comes of it.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/season.h"
#include "runnel/network/system.h"
#include "runnel/springs/bucket_yield.h"
#include "runnel/springs/dry_year.h"

namespace runnel::filling {

/// How well one spring's yield is known.
struct MeasuredSpring {
  std::string box;
  springs::BucketYield yield;
};

/// Taps below tanks left running the whole year, as drawn, out of full tanks.
struct LeftRunning {
  std::vector<double> taken_m3s;  ///< out of the tanks, a period
  StorageNeed need;
  Coverage coverage;
  /// In which the first water is missing, counted from full; none if it lasts.
  std::optional<std::size_t> first_dry;
};

/// What is known of the years of one spring. A year is dry if its tanks run dry in it. That is so where the
/// spring gives less, at its least, than `need`: all springs of the part are taken to fall alike, every month
/// by the same share.
struct SpringYears {
  std::string box;
  Flow least;                           ///< of the year looked at
  std::optional<Flow> need;             ///< none: no yield helps, as the lines do not bring it
  std::optional<double> spread;         ///< stated, as a share of the mean
  std::size_t years = 0;                ///< whose least yields are told
  std::optional<springs::DryYear> dry;  ///< none: too little is known, or there is no need
};

/// Places that lines join, with at least one tank. Its springs and tanks are pooled: what reaches one tank is
/// taken to serve all. It reaches them through the lines, after taps and draws of the model that lie on the
/// way have taken theirs; what is drawn there by the hour is pooled with the needs of the tanks. Tanks are
/// taken at their lowest, where lines bring most. Boxes store nothing. Taps that lines feed from tanks are
/// taken as shut, and once more as running all the time: except below a tank with a row of `demands`, which
/// says all that it gives.
struct YearPart {
  std::vector<std::string> boxes, tanks;
  Season season;                         ///< its yield is what reaches the tanks
  std::vector<double> springs_m3s;       ///< what the springs give, a period
  std::vector<MeasuredSpring> measured;  ///< boxes with bucket tests
  std::vector<std::string> falling;      ///< boxes whose yield falls from a date to the end of the year
  std::vector<SpringYears> years;        ///< boxes of which something is known over the years
  /// From the lowest level at which a tank still gives up to where its float valve shuts, else to its lip.
  /// What stands below every mouth, or below the highest point of every line that leads away, never comes
  /// out.
  double capacity_m3 = 0.0;
  StorageNeed need;
  Coverage coverage;
  std::optional<LeftRunning> running;    ///< none if no tap takes anything out of these tanks
  std::vector<int> places;               ///< of the system
  std::optional<std::size_t> unsettled;  ///< the first period for which no answer was reached
  bool lasts() const { return !unsettled && coverage.dry_days() == 0.0; }
  std::string short_at;        ///< a place that gets less in its hours than is drawn there: `look_at_hours`
  bool short_unknown = false;  ///< its hours could not be followed
  /// Month by month and hour by hour.
  bool good() const { return lasts() && short_at.empty() && !short_unknown; }
  /// Lasts also with the taps below its tanks left running.
  bool lasts_running() const { return lasts() && !(running && running->first_dry); }
  /// Some of what the springs give does not reach the tanks in that period.
  bool held_back(std::size_t period) const { return season.yield_m3s[period] < springs_m3s[period]; }
};

/// One part after another, in the order of their first tanks. Precondition: `system.year()` is there and the
/// system passed `validate`.
std::vector<YearPart> look_at_year(const network::System& system);

/// Holds the draws by the hour to a day with the yields that the model counts on (typical_day.h): what is
/// pooled over months may still be missing every morning, or stand in the other tank.
void look_at_hours(const network::System& system, std::vector<YearPart>& parts);

}  // namespace runnel::filling
