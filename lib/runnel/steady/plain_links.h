#pragma once
// The links that are nothing but one full pipe which water may take either way: nearly all there are in a
// large system. Their laws are evaluated all at once (losses/friction_batch.h); what `linearise` would say
// of them one by one, to rounding.
#include <cstdint>
#include <vector>

#include "runnel/losses/friction_batch.h"
#include "runnel/steady/kernel.h"

namespace runnel::steady {

/// Sums over links that the solver judges a state by.
struct LinkTally {
  double worst_m = 0.0, sum_m = 0.0;  ///< energies left over
  double flow_m3s = 0.0;              ///< all flows, without their signs
  double steepest = 0.0;              ///< the largest alpha or beta
};

class PlainLinks {
 public:
  explicit PlainLinks(const Kernel& kernel);

  const std::vector<std::uint32_t>& others() const { return others_; }  ///< links that are not plain

  /// Sets the entries of the plain links, at the present flows (one a link) and heads (one a node).
  void linearise(const std::vector<double>& flow_m3s, const std::vector<double>& head_m,
                 std::vector<double>& predicted_m3s, std::vector<double>& alpha, std::vector<double>& beta,
                 std::vector<int>& control, LinkTally& tally);

 private:
  struct Place {
    std::uint32_t link, a, b;
  };
  struct Local {
    double forward_s2m5, backward_s2m5, smooth_m3s;
  };
  bool take(const Kernel& kernel, std::uint32_t k);
  void add_local_losses();

  losses::FrictionBatch batch_;
  std::vector<Place> places_;
  std::vector<Local> locals_;
  std::vector<double> start_m3s_;
  std::vector<std::uint32_t> controls_[2];  ///< forward, backward
  std::vector<std::uint32_t> others_;
  bool any_local_ = false;
  std::vector<double> at_m3s_, loss_m_, slope_sm2_;
};

}  // namespace runnel::steady
