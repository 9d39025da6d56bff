#pragma once
// What is drawn at a place hour by hour. A draw with hours takes its day's volume evenly within them, day
// after day; without hours it runs all day. Nothing is random.
#include <vector>

#include "runnel/network/place.h"

namespace runnel::filling {

inline constexpr double day_s = 86400.0;
/// Instants nearer to each other than this are one, and a draw that changes so soon has changed already. It
/// is far below a second and far above the rounding of a year in seconds.
inline constexpr double same_instant_s = 1e-6;

class DrawSchedule {
 public:
  DrawSchedule() = default;
  /// `start_hour`: the time of day at which the run begins.
  DrawSchedule(const std::vector<network::Draw>& draws, double start_hour);

  /// The draw at a time [m3/s]; at a change, already the new rate.
  double rate_m3s(double time_s) const;
  /// The next time after `time_s` at which the rate changes; infinite if it never does.
  double next_change_s(double time_s) const;
  bool steady() const { return changes_.size() < 2; }
  bool any() const { return !changes_.empty(); }
  /// Drawn in a whole day [m3].
  double day_volume_m3() const;

 private:
  struct Change {
    double second = 0.0;    ///< of the day
    double rate_m3s = 0.0;  ///< from then on
  };
  std::vector<Change> changes_;  ///< by time of day; the last holds until the first of the next day
  double start_s_ = 0.0;
};

}  // namespace runnel::filling
