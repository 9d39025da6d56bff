#pragma once
// Whether anything still changes: whether the water has come to rest, or one day is like the day before.
#include "runnel/filling/basins.h"

namespace runnel::filling {

class RestWatch {
 public:
  explicit RestWatch(const Basins& basins) : basins_(basins) {}

  void begin(const Eigen::VectorXd& volume) { yesterday_ = highest_ = highest_before_ = volume; }
  /// To be called after each step.
  void look(double time_s, const Eigen::VectorXd& volume, const Eigen::VectorXd& rate);
  RestKind kind() const { return kind_; }
  /// Whether the highest level of some storage was lower in the last whole day than in the day before.
  bool sinks() const { return sinks_; }

 private:
  void look_for_sinking(double time_s, const Eigen::VectorXd& volume);

  const Basins& basins_;
  Eigen::VectorXd yesterday_;
  Eigen::VectorXd highest_, highest_before_;  ///< in the present day of the run, and in the one before
  double day_began_s_ = 0.0;
  bool sinks_ = false;
  RestKind kind_ = RestKind::no;
};

}  // namespace runnel::filling
