#pragma once
// The links that are nothing but one full pipe in which water may flow either way: nearly all the links of a
// large system. Their laws are evaluated all at once (losses/friction_batch.h), to what `linearise` would
// give one by one, within rounding.
#include <cstdint>
#include <vector>

#include "runnel/losses/friction_batch.h"
#include "runnel/steady/workspace.h"

namespace runnel::steady {

class PlainLinks {
 public:
  /// Sorts the kernel's links into plain ones and others. May be called again after any change to the
  /// kernel's figures.
  void sort(const Kernel& kernel);
  /// Sorts them so that `update` can find them and no later `sort` allocates.
  void prepare(const Kernel& kernel);
  /// After `prepare`: takes over new figures of one link. Returns false if the link has become plain or is no
  /// longer so; `sort` must follow.
  bool update(const Kernel& kernel, std::uint32_t k);

  const std::vector<std::uint32_t>& others() const { return others_; }  ///< links that are not plain

  /// Sets the entries of the plain links in the linear model at the present state. Where only heads have
  /// changed since the last time, friction is not evaluated again.
  void linearise(Workspace& work, LinkTally& tally);
  /// Adds to the flows that the linear model predicts what their laws bend away from it on the way to
  /// `flow_m3s`, one a link. Returns the most that any bends.
  double bend(Workspace& work, const std::vector<double>& flow_m3s) const;

 private:
  struct Place {
    std::uint32_t link, a, b;
  };
  struct Local {
    double forward_s2m5, backward_s2m5, smooth_m3s;
  };
  static bool plain(const Kernel& kernel, const Link& link);
  bool take(const Kernel& kernel, std::uint32_t k);
  template <bool fine>
  void tally_up(Workspace& work, LinkTally& tally);
  void evaluate_losses();
  void add_local_losses(std::size_t first, std::size_t end);

  losses::FrictionBatch batch_;
  std::vector<Place> places_;
  std::vector<Local> locals_;
  std::vector<double> start_m3s_;
  std::vector<std::uint32_t> controls_[2];  ///< forward, backward
  std::vector<std::uint32_t> others_;
  std::vector<int> slot_;  ///< link -> its slot here, -1: not plain; kept from `prepare` on
  bool keeps_slots_ = false;
  bool any_local_ = false;
  bool known_ = false;     ///< losses are those at `at_m3s_`, but for the pipes around `changed_slot_`
  int changed_slot_ = -1;  ///< -1: none
  std::vector<double> at_m3s_, loss_m_, slope_sm2_;
  std::vector<double> was_at_m3s_, was_slope_sm2_, next_m3s_;  ///< of the evaluation before, and for the next
};

}  // namespace runnel::steady
