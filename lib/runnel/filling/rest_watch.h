#pragma once
// Whether anything still changes: water that has come to rest, days that are like the day before.
#include "runnel/filling/basins.h"

namespace runnel::filling {

class RestWatch {
 public:
  explicit RestWatch(const Basins& basins) : basins_(basins) {}

  void begin(const Eigen::VectorXd& volume) { yesterday_ = volume; }
  /// Looks at a moment of the run: after each step.
  void look(double time_s, const Eigen::VectorXd& volume, const Eigen::VectorXd& rate);
  RestKind kind() const { return kind_; }

 private:
  const Basins& basins_;
  Eigen::VectorXd yesterday_;
  RestKind kind_ = RestKind::no;
};

}  // namespace runnel::filling
