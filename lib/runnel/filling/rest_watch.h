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
  /// Whether some float valve has opened, but less often than that.
  bool some_opened_less_than(int times) const;
  /// Whether the highest level of some storage was lower in the last whole day than in the day before.
  bool sinks() const { return sinks_; }

 private:
  void look_for_sinking(double time_s, const Eigen::VectorXd& volume);
  bool same(const Eigen::VectorXd& volume, const Eigen::VectorXd& before) const;

  const Basins& basins_;
  Eigen::VectorXd yesterday_;
  Eigen::VectorXd highest_, highest_before_;  ///< in the present day of the run, and in the one before
  double day_began_s_ = 0.0;
  struct Openings {
    int count = 0;
    Eigen::VectorXd last_volume;
  };
  std::map<std::string, Openings> openings_;  ///< of each float valve that has opened
  bool sinks_ = false, repeats_ = false;
  RestKind kind_ = RestKind::no;
};

}  // namespace runnel::filling
