#pragma once
// One part between fixed levels, kept with its solver. Levels, draws and valves are changed in place, and the
// next flows are found from the last.
#include <memory>
#include <optional>

#include "runnel/filling/part.h"
#include "runnel/linear/node_system.h"
#include "runnel/steady/kernel_solver.h"

namespace runnel::filling {

class SettledPart {
 public:
  explicit SettledPart(Part part);

  const std::vector<int>& nodes() const { return nodes_; }  ///< of the whole kernel
  const std::vector<int>& links() const { return links_; }
  const steady::Kernel& kernel() const { return solver_->kernel(); }
  /// The state last settled.
  const steady::KernelState& state() const { return rough_ ? *rough_ : solver_->state(); }

  // Changes, by the part's own numbers. Setting something to what it is already costs nothing.
  void set_level(int place, double level_m);
  void set_draw(int place, double draw_m3s, double floor_m);
  void set_valve(int link, bool shut, double most_m3s);

  /// Finds the flows if anything has changed, adding Newton steps to `work`. Returns whether they settled.
  bool settle(long& work);

  /// d flow / d head of a fixed place [m2/s], one a link, at the state last settled. False if unknown.
  bool slopes(int place, std::vector<double>& flow_m2s);

 private:
  bool all_shut_at(int place) const;
  void settle_roughly(long& work);
  void read_slopes();

  std::vector<int> nodes_, links_;
  std::vector<std::vector<int>> links_at_;  ///< one list a place of the part
  std::unique_ptr<steady::KernelSolver> solver_;
  std::optional<steady::KernelState> rough_;  ///< the state where the fine limits cannot be met
  bool settled_ = false, changed_ = true, linear_ = false;

  // The linear model of the flows at the state last settled.
  std::vector<int> row_;  ///< place -> row of `system_`, -1: fixed
  linear::NodeSystem system_;
  std::vector<double> alpha_, beta_, ground_, rhs_, rise_;
  std::vector<char> pinned_;
};

}  // namespace runnel::filling
