#pragma once
// Writes an instant of a run as a steady state is written, so that whoever judges steady states can judge it.
#include "runnel/filling/basins.h"
#include "runnel/network/flow_state.h"

namespace runnel::filling {

class StateTeller {
 public:
  /// `system`: the caller's, which must outlive this; the run counts elevations from `datum_m`.
  StateTeller(const network::System& system, double datum_m);

  /// The state with every storage at its level and float valves as in the run. Depths of part-full stretches
  /// and the proof are left out.
  network::State tell(const Basins& basins, const Eigen::VectorXd& volume, const Instant& now) const;

 private:
  void tell_joint(const DrawnPlace& place, const steady::KernelState& solved,
                  network::PlaceState& joint) const;

  const network::System& system_;
  double datum_m_;
  steady::Assembly assembly_;
  std::vector<FloatGroup> floats_;
};

}  // namespace runnel::filling
