#pragma once
// How fast the front of the water advances in an empty line: at what the spring gives, or at what the wet
// part of the line can carry to the front, whichever is less.
//
// Quasi-steady: at each instant the wet part carries what it would carry for ever to an open end at the
// front, with the air in the legs that have closed by then (steady/pocket_law.h) and with its crests holding
// the grade line up. Behind the front the pipe counts as full. The further the front has come, the more head
// it needs, since a crest or a pocket once passed needs as much from then on. So the rate never rises on the
// way, and a stretch takes no less than its volume over the rate at its start and no more than that over the
// rate at its end. A stretch is halved until these two are close.
#include <vector>

#include "runnel/air/crests.h"
#include "runnel/network/system.h"
#include "runnel/steady/pocket_course.h"

namespace runnel::air {

class WetPart {
 public:
  /// For a way that starts. `most_m3s`: what the spring gives, > 0.
  WetPart(const network::System& system, const Way& way, double most_m3s);

  /// Slope length from the source to a point of the way's profile [m].
  double length_to_m(int profile_point) const;
  /// Volume of the bore up to a length [m3].
  double volume_m3(double length_m) const;
  /// Whether it carries all that the spring gives to its very end.
  bool takes_all() const { return end_rate_m3s_ >= most_m3s_; }
  /// The rate at which a front there advances [m3/s]; 0 where the source does not lift it so far.
  double rate_m3s(double length_m) const { return rate_m3s(length_m, most_m3s_); }
  struct Front {
    double length_m, volume_m3, rate_m3s;
  };
  Front start() const { return {0.0, 0.0, most_m3s_}; }
  /// Advances a front, filling the bore, and returns the time taken; infinite if the rate becomes 0.
  double advance(Front& front, double to_m) const;

 private:
  double rate_m3s(double length_m, double most_m3s) const;
  Front front_at(double length_m, double most_m3s) const;
  double seconds(const Front& from, const Front& to, double close_s, int depth) const;
  void add_losses(const network::System& system, const Path& path);
  void add_pockets(const Way& way);

  steady::PocketCourse course_;               ///< of the whole way, with the pockets of its last stage
  std::vector<double> length_m_, volume_m3_;  ///< to each point of the course
  std::vector<int> point_of_;                 ///< point of the profile -> point of the course
  double source_m_ = 0.0, most_m3s_ = 0.0, end_rate_m3s_ = 0.0;
};

}  // namespace runnel::air
