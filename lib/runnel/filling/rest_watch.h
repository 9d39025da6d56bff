#pragma once
// Whether anything still changes: water that has come to rest, days that are like the day before.
#include "runnel/filling/basins.h"

namespace runnel::filling {

class RestWatch {
 public:
  explicit RestWatch(const Basins& basins) : basins_(basins) {}

  void begin(const Eigen::VectorXd& volume) { yesterday_ = highest_ = highest_before_ = volume; }
  /// Looks at a moment of the run: after each step.
  void look(double time_s, const Eigen::VectorXd& volume, const Eigen::VectorXd& rate);
  RestKind kind() const { return kind_; }
  /// A storage stood lower, at its highest, through the last whole day than through the day before.
  bool sinks() const { return sinks_; }

 private:
  void look_for_sinking(double time_s, const Eigen::VectorXd& volume);

  const Basins& basins_;
  Eigen::VectorXd yesterday_;
  Eigen::VectorXd highest_, highest_before_;  ///< of the present day of the run, and of the one before
  double day_began_s_ = 0.0;
  bool sinks_ = false;
  RestKind kind_ = RestKind::no;
};

}  // namespace runnel::filling
