#pragma once
// The year of a model: which springs and tanks belong together, and whether they last.
#include <algorithm>
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

/// The year with more taken out of full tanks, all the time, than is wanted: by taps below them that are left
/// running as drawn, or by other tanks that no float valve shuts.
struct LeftRunning {
  std::vector<double> taken_m3s;  ///< out of the tanks, one a period
  StorageNeed need;
  Coverage coverage;
  /// The period in which the first water is missing, counted from full; none if the tanks last.
  std::optional<std::size_t> first_dry;
};

/// What is known about the years of one spring. A year is dry if the tanks run dry in it, which they do if
/// the spring gives less, at its least, than `need`. All springs of the part are taken to fall alike, in
/// every month by the same share.
struct SpringYears {
  std::string box;
  Flow least;                           ///< of the year looked at
  std::optional<Flow> need;             ///< none: no yield helps, because the lines do not bring it
  std::optional<double> spread;         ///< as stated, a share of the mean
  std::size_t years = 0;                ///< number of years whose least yields are given
  std::optional<springs::DryYear> dry;  ///< none: too little is known, or there is no need
};

/// A tank, or a tap or joint at which water is drawn, in the periods of a year.
struct PlaceYear {
  int place = 0;             ///< by the system's numbers
  double capacity_m3 = 0.0;  ///< of a tank, as below
  std::vector<double> demand_m3s;
  std::vector<double> inflow_m3s;  ///< of a tank: what reaches it from springs without passing another tank
};

/// Stores and springs of a part, with all that is drawn where no others can bring water, or no more than a
/// line carries.
struct Cut {
  std::vector<std::string> boxes, tanks;
  std::string drawn_at;  ///< where most is drawn
  Season season;
  double capacity_m3 = 0.0;
  StorageNeed need;
  Coverage coverage;
};

/// A group of places joined by lines, with at least one tank. Its springs and tanks are pooled, and then
/// every `Cut` of it is looked at (year_ways.h): water does not run uphill. Water reaches the tanks through
/// the lines, after taps and draws of the model on the way have taken theirs; what is drawn there by the hour
/// is pooled with the demand on the tanks. Tanks are taken at their lowest, where lines bring most, and boxes
/// store nothing. Taps that lines feed from tanks are taken as shut, and once more as running all the time,
/// except below a tank with a row of `demands`, which states all that the tank gives.
struct YearPart {
  std::vector<std::string> boxes, tanks;
  Season season;                         ///< with the water that reaches the tanks as its yield
  std::vector<double> springs_m3s;       ///< what the springs give, one a period
  std::vector<MeasuredSpring> measured;  ///< boxes with bucket tests
  std::vector<std::string> falling;      ///< boxes whose yield falls from a date to the end of the year
  std::vector<SpringYears> years;        ///< boxes about which something is known over the years
  /// Volume from the lowest level at which a tank still gives up to where its float valve shuts, else to its
  /// lip, for all tanks. Water below every mouth, or below the highest point of every line that leads away,
  /// never comes out.
  double capacity_m3 = 0.0;
  StorageNeed need;
  Coverage coverage;
  std::vector<PlaceYear> drawn;          ///< tanks, taps and joints
  std::optional<Cut> short_of;           ///< the cut that misses most, where the whole lasts
  std::optional<LeftRunning> running;    ///< none if no tap takes anything out of these tanks
  std::optional<LeftRunning> spilling;   ///< none if no tank that others feed runs over
  std::vector<std::string> spill_at;     ///< the tanks that do
  std::vector<int> places;               ///< by the system's numbers
  std::optional<std::size_t> unsettled;  ///< the first period for which no answer was reached
  bool holds(std::optional<int> place) const {
    return place && std::find(places.begin(), places.end(), *place) != places.end();
  }
  bool lasts() const { return !unsettled && coverage.dry_days() == 0.0 && !short_of; }
  std::string short_at;        ///< a place that gets less in its hours than is drawn there (`look_at_hours`)
  bool short_unknown = false;  ///< the hours could not be followed
  /// Whether it lasts though tanks run over that others feed.
  bool lasts_spilling() const { return !(spilling && spilling->first_dry); }
  /// Whether it lasts month by month and hour by hour.
  bool good() const { return lasts() && lasts_spilling() && short_at.empty() && !short_unknown; }
  /// Whether it also lasts with the taps below its tanks left running.
  bool lasts_running() const { return lasts() && !(running && running->first_dry); }
  /// Whether some of what the springs give does not reach the tanks in a period.
  bool held_back(std::size_t period) const { return season.yield_m3s[period] < springs_m3s[period]; }
};

/// The parts, in the order of their first tanks. Preconditions: the system has a year and passed `validate`.
std::vector<YearPart> look_at_year(const network::System& system);

/// Checks the draws by the hour on a typical day with the yields of the model (typical_day.h): water that is
/// enough when pooled over months may still be missing every morning, or be in the other tank.
void look_at_hours(const network::System& system, std::vector<YearPart>& parts);

}  // namespace runnel::filling
