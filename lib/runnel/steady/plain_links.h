#pragma once
// The links that are one full pipe in which water may flow either way, and whose high points and mouths, if
// they have any, stand so far below the water that they have no say: nearly all the links of a large system.
// Their laws are evaluated all at once (losses/friction_batch.h), to what `linearise` would give one by one,
// within rounding.
#include <cstdint>
#include <vector>

#include "runnel/losses/friction_batch.h"
#include "runnel/steady/crossing.h"
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
  /// changed since the last time, friction is not evaluated again. A link of which a high point or a mouth
  /// may have a say leaves, until the next `sort`: its entries are not set.
  void linearise(Workspace& work, LinkTally& tally);
  /// The links that left in the last `linearise`.
  const std::vector<std::uint32_t>& leaving() const { return leaving_; }
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
  enum class Kind { plain, crossing, other };
  struct Crossings {
    Crossing forward, backward;
  };
  static Kind kind(const Kernel& kernel, const Link& link, Crossings& both);
  void take_crossing(const Kernel& kernel);
  bool take(const Kernel& kernel, std::uint32_t k);
  void put(const Kernel& kernel, std::size_t slot);
  bool stays(const Workspace& work, std::size_t slot, double flow_m3s, double head_a_m,
             double head_b_m) const;
  void tally_up(Workspace& work, LinkTally& tally);
  template <bool fine, bool crossing>
  void tally_up(Workspace& work, std::size_t first, std::size_t end, LinkTally& tally);
  void evaluate_losses();
  void add_local_losses(std::size_t first, std::size_t end);

  losses::FrictionBatch batch_;
  std::vector<Place> places_;
  std::vector<Local> locals_;
  std::vector<double> start_m3s_;
  std::vector<std::uint32_t> controls_[2];  ///< forward, backward
  std::vector<std::uint32_t> others_;
  std::vector<std::uint32_t> crossing_;  ///< links with high points or a mouth, when sorted
  std::size_t crossing_from_ = 0;        ///< their first slot; those of the plain links come before
  std::vector<Crossings> crossings_;     ///< one for each slot from there on
  std::vector<char> left_;               ///< likewise: whether it has left
  std::vector<std::uint32_t> leaving_;
  std::vector<int> slot_;  ///< link -> its slot here, -1: not plain; kept from `prepare` on
  bool keeps_slots_ = false;
  bool any_local_ = false;
  bool known_ = false;     ///< losses are those at `at_m3s_`, but for the pipes around `changed_slot_`
  int changed_slot_ = -1;  ///< -1: none
  std::vector<double> at_m3s_, loss_m_, slope_sm2_;
  std::vector<double> was_at_m3s_, was_slope_sm2_;  ///< of the evaluation before
};

}  // namespace runnel::steady
