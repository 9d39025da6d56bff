#pragma once
// An instant of a run told as `flow` tells a steady state, so that whoever judges steady states can judge it.
#include "runnel/filling/basins.h"
#include "runnel/network/flow_state.h"

namespace runnel::filling {

class StateTeller {
 public:
  /// `system`: as the caller knows it; the run counts its elevations from `datum_m`. It must outlive this.
  StateTeller(const network::System& system, double datum_m);

  /// Every storage at its level, float valves as the run has them. Depths of part-full stretches and the
  /// proof are left out.
  network::State tell(const Basins& basins, const Eigen::VectorXd& volume, const Instant& now) const;

 private:
  void tell_joint(const DrawnPlace& place, const steady::KernelState& solved,
                  network::PlaceState& joint) const;
  void tell_tap(const DrawnPlace& place, const steady::KernelState& solved, network::PlaceState& tap) const;

  const network::System& system_;
  double datum_m_;
  steady::Assembly assembly_;
};

}  // namespace runnel::filling
