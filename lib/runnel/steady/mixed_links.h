#pragma once
// All links that are not plain: several bores, crests, mouths, valves, one way only, open ends. The friction
// of all their pipes is evaluated at once. The controls behind the first are evaluated only where a bound
// cannot rule them out, so that a line with fifty survey points costs as much as one with two.
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
  /// Takes these as well.
  void add(const Kernel& kernel, const std::vector<std::uint32_t>& links);
  /// Takes over new figures of a link; does nothing if the link is not one of these.
  void update(const Kernel& kernel, std::uint32_t k);

  /// Sets their entries in the linear model at the present state. Where only heads have changed since the
  /// last time, friction is not evaluated again.
  void linearise(Workspace& work, LinkTally& tally);
  /// As PlainLinks::bend.
  double bend(Workspace& work, const std::vector<double>& flow_m3s) const;
  /// How one of its links stands at rest, one way, at the heads of the state last linearised.
  Standing at_rest(const Workspace& work, std::uint32_t k, bool forward);
  /// How many controls behind the first were looked at so far.
  long looked_at() const { return looked_at_; }

 private:
  /// The room that the controls behind the first had left when they were last all evaluated.
  struct Watch {
    bool known = false;
    int chosen = -1;        ///< the one of them followed then; evaluated every time
    double margin_m = 0.0;  ///< the least room that another had left
    double source_m = 0.0, sink_m = 0.0, loss_m = 0.0;  ///< the heads then, and the bound of their losses
  };
  struct Entry {
    std::uint32_t link = 0;
    std::uint32_t slot = 0;          ///< of its first term in the batch
    double most_quadratic_s2m5 = 0;  ///< of all its controls
    Watch watch[2];                  ///< forward, backward
    MouthAtFlow mouth[2];            ///< likewise
    struct Governed {
      int control = -1;
      double flow_m3s = 0.0, loss_m = 0.0, slope_sm2 = 0.0;
    } now, before;  ///< as linearised last, and at another flow before
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
  std::vector<double> longest_m_;  ///< one a term: its greatest length in any control of its link
  bool one_law_ = true;            ///< false: every term is evaluated by itself
  bool known_ = false;             ///< friction is that at `at_m3s_`
  losses::FrictionBatch batch_;    ///< per metre
  std::vector<double> at_m3s_, per_metre_m_, per_metre_slope_;
  long looked_at_ = 0;
};

}  // namespace runnel::steady
