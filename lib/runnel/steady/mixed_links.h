#pragma once
// All links that are not plain: several bores, crests, mouths, valves, one way only, open ends. The friction
// of all their pipes is evaluated at once; of the controls behind the first only those are looked at that a
// bound cannot rule out, so that a line with fifty survey points costs what one with two does.
#include <cstdint>
#include <vector>

#include "runnel/losses/friction_batch.h"
#include "runnel/steady/workspace.h"

namespace runnel::steady {

class MixedLinks {
 public:
  /// Allocates for all links of the kernel, so that no later `take` does; a `take` must follow.
  void prepare(const Kernel& kernel);
  /// Takes these links. May be called again after any change to the kernel's figures.
  void take(const Kernel& kernel, const std::vector<std::uint32_t>& links);
  /// Takes over new figures of one of its links; nothing happens if it is not.
  void update(const Kernel& kernel, std::uint32_t k);

  /// Sets their entries in the linear model at the present state.
  void linearise(Workspace& work, LinkTally& tally);
  /// How one of its links stands at rest, one way, at the heads of the state last linearised.
  Standing at_rest(const Workspace& work, std::uint32_t k, bool forward);
  /// How many controls behind the first were looked at so far.
  long looked_at() const { return looked_at_; }

 private:
  /// What the controls behind the first had left when they were last all looked at.
  struct Watch {
    bool known = false;
    int chosen = -1;        ///< of them, the one to be followed then; looked at every time
    double margin_m = 0.0;  ///< the least that another had left
    double source_m = 0.0, sink_m = 0.0, loss_m = 0.0;  ///< at these heads, with this bound of their losses
  };
  struct Entry {
    std::uint32_t link = 0;
    std::uint32_t slot = 0;          ///< of its first term in the batch
    double most_quadratic_s2m5 = 0;  ///< of all its controls
    Watch watch[2];                  ///< forward, backward
  };
  void measure(const Kernel& kernel, Entry& entry);
  void evaluate_friction(const Workspace& work);
  LinkStep step_of(const Workspace& work, Entry& entry);
  Standing governing(const Workspace& work, Entry& entry, const LinkAtFlow& here, bool forward);
  Standing without_mouth(const Workspace& work, Entry& entry, const LinkAtFlow& here, bool forward,
                         const Head& source, const Head& sink);
  Standing look_at_all(Watch& watch, std::uint32_t first, std::uint32_t count, const LinkAtFlow& here,
                       const Head& source, const Head& sink, Standing least);

  std::vector<Entry> entries_;
  std::vector<int> entry_of_;      ///< link -> its entry, -1: none
  std::vector<double> longest_m_;  ///< one a term: the greatest length any control of its link has of it
  bool one_law_ = true;            ///< else every term is evaluated by itself
  losses::FrictionBatch batch_;    ///< per metre
  std::vector<double> at_m3s_, per_metre_m_, per_metre_slope_;
  long looked_at_ = 0;
};

}  // namespace runnel::steady
