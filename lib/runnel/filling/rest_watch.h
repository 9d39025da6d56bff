#pragma once
// Whether anything still changes: whether the water has come to rest, or one day is like the day before.
#include <map>
#include <string>

#include "runnel/filling/basins.h"

namespace runnel::filling {

class RestWatch {
 public:
  explicit RestWatch(const Basins& basins) : basins_(basins) {}

  void begin(const Eigen::VectorXd& volume) { yesterday_ = highest_ = highest_before_ = volume; }
  /// To be called after each step.
  void look(double time_s, const Eigen::VectorXd& volume, const Eigen::VectorXd& rate);
  /// To be called when a float valve opens.
  void float_opened(const std::string& valve, const Eigen::VectorXd& volume);
  RestKind kind() const { return kind_; }
  /// Whether some float valve has opened twice with the same water in all storages: if nothing depends on the
  /// hour, all that was between the two happens for ever.
  bool repeats() const { return repeats_; }
  /// Whether the highest level of some storage was lower in the last whole day than in the day before.
  bool sinks() const { return sinks_; }

 private:
  void look_for_sinking(double time_s, const Eigen::VectorXd& volume);
  bool same(const Eigen::VectorXd& volume, const Eigen::VectorXd& before) const;

  const Basins& basins_;
  Eigen::VectorXd yesterday_;
  Eigen::VectorXd highest_, highest_before_;  ///< in the present day of the run, and in the one before
  double day_began_s_ = 0.0;
  std::map<std::string, Eigen::VectorXd> at_opening_;  ///< by float valve, when it last opened
  bool sinks_ = false, repeats_ = false;
  RestKind kind_ = RestKind::no;
};

}  // namespace runnel::filling
