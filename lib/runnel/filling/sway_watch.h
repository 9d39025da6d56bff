#pragma once
// Whether the water of a storage only sways: float valves open and shut for ever, each at its own pace, and
// it comes no lower than before.
#include <Eigen/Core>
#include <map>
#include <string>
#include <vector>

#include "runnel/filling/basins.h"

namespace runnel::filling {

class SwayWatch {
 public:
  explicit SwayWatch(const Basins& basins) : basins_(basins) {}

  void begin(const Eigen::VectorXd& volume);
  /// To be called after each step.
  void look(double time_s, const Eigen::VectorXd& volume);
  /// To be called when a float valve opens.
  void float_opened(const std::string& valve) { ++openings_[valve]; }
  /// Whether a storage stood no lower in the last while than in the one before, neither at its lowest nor in
  /// the mean. A while has some openings of every float valve that has opened at all, and is at least as long
  /// as all before it, and as a day.
  bool sways(std::size_t storage) const { return sways_[storage] != 0; }

 private:
  struct While {
    double began_s = 0.0;
    Eigen::VectorXd lowest, mean;  ///< volumes
  };
  bool long_enough(double time_s) const;
  bool as_low_as_before(std::size_t storage) const;

  const Basins& basins_;
  While now_, before_;
  std::map<std::string, int> openings_;  ///< of each float valve that has opened, in the present while
  double seen_s_ = 0.0;
  Eigen::VectorXd seen_;  ///< the volumes at that time
  std::vector<char> sways_;
};

}  // namespace runnel::filling
