#pragma once
// Finds the first thing that happens within a trial step.
#include <optional>

#include "runnel/filling/basins.h"

namespace runnel::filling {

enum class MarkKind { lip, floor, mouth, float_level, inlet, bend, dry, regime };

struct Found {
  MarkKind kind = MarkKind::regime;
  std::size_t storage = 0;
  Level* level = nullptr;  ///< inlet, bend, dry: the level that is passed
  double target_m3 = 0.0;
  int direction = 0;   ///< +1 rising through the target, -1 falling
  double share = 1.0;  ///< of the step
};

class Seeker {
 public:
  explicit Seeker(Basins& basins);

  /// The first mark that the water passes within a step from `start`, or none. Cheap: no flows are solved.
  std::optional<Found> first_mark(const Eigen::VectorXd& start, const Trial& trial);
  /// Where the laws change between the start of a step and its end, if they do: found by bisection, which
  /// solves flows. `rims_only`: only changes of rims and held float valves count.
  std::optional<Found> regime_change(const Eigen::VectorXd& start, const Instant& before, const Trial& trial,
                                     bool rims_only);

  /// Records on which side of each two-sided mark the water stands, where it is not known yet.
  void note_sides(const Eigen::VectorXd& volume);
  /// Changes the side of a mark that has been passed.
  void passed(const Found& found);

 private:
  void look(std::size_t storage, MarkKind kind, Level* level, double target_m3, int direction);
  void marks_of(std::size_t storage);

  Basins& basins_;
  std::vector<Level> dry_;
  std::vector<double> path_;  ///< volumes of one storage along the step
  std::optional<Found> best_;
  const Eigen::VectorXd* start_ = nullptr;
  const Trial* trial_ = nullptr;
};

}  // namespace runnel::filling
