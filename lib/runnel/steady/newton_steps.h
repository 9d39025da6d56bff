#pragma once
// Newton's method on flows and heads together [todini1988], generalised to links whose law is the least of
// several controls and to places with a lip or a draw. At each step the governing control of every link is
// linearised, the flows are eliminated, one sparse M-matrix system gives the heads (linear/node_system.h) and
// the flows follow from them. Controls, lips and draws are chosen anew at every step from the linear model
// itself (a semismooth Newton step, [qi-sun1993]), so none is guessed and kept.
#include <cstdint>
#include <vector>

#include "runnel/linear/node_system.h"
#include "runnel/steady/close_continuity.h"
#include "runnel/steady/mixed_links.h"
#include "runnel/steady/plain_links.h"
#include "runnel/steady/stranded_places.h"
#include "runnel/steady/workspace.h"

namespace runnel::steady {

class NewtonSteps {
 public:
  explicit NewtonSteps(const Kernel& kernel, const NewtonOptions& options);

  /// Allocates all that any later step could need.
  void prepare();
  /// Takes over new figures of these links; `sort_links` takes over those of all links.
  void update(const std::vector<std::uint32_t>& links);
  void sort_links();

  Workspace& work() { return work_; }
  const Workspace& work() const { return work_; }
  const NewtonOptions& options() const { return options_; }
  const MixedLinks& mixed() const { return mixed_; }

  /// Takes Newton steps until the state is settled; returns false if it is not after `steps` of them.
  bool iterate(int steps);
  /// The same from a state that needs little: steps follow the bends of the laws as well, and the first goes
  /// by the matrix factorised last if that still holds.
  bool iterate_near(int steps);
  /// Whether a state found with some of the controls, which nearly all systems keep, settles all of them.
  bool stands_with_all_controls();
  /// Computes the linear model and the balances of the present state.
  void evaluate();
  /// On a small system, and if the options ask for it, brings a settled state closer to round-off with one
  /// more step and stops trickles that ought to stand still.
  void polish();
  bool exhausted() const { return static_cast<int>(work_.state.history.size()) >= options_.max_iterations; }

 private:
  void linearise();
  bool close() const;
  double imbalance_m3s() const;
  bool continuous() const;
  bool balanced();
  bool very_close() const;
  void step_closer();
  bool stop_trickles();
  void record();
  /// `open_stranded`: not in a settled state, where it would start trickles again.
  bool take_step(bool open_stranded);
  void set_up_places();
  bool solve_for_heads();
  bool factors_hold() const;
  void aim();
  void follow_bends();
  double pinned_at_m(int node) const;
  bool small() const;
  void move(double share);
  void move_heads(double share);
  void damp(double wrong_before_m);
  void keep();
  void give_back();

  NewtonOptions options_;
  Workspace work_;
  linear::NodeSystem system_;
  PlainLinks plain_;
  MixedLinks mixed_;
  StrandedPlaces stranded_;
  CloseContinuity close_continuity_;
  std::vector<double> ground_;        ///< one a place
  double ground_m2s_ = 0.0;           ///< what all of them are
  std::vector<double> rhs_, change_;  ///< one a place, and one for all fixed heads, whose change stays 0
  struct PlacesOf {
    std::uint32_t a, b;
  };
  std::vector<PlacesOf> ends_;  ///< of each link; the last for a fixed head
  std::vector<char> pinned_;
  bool near_ = false;
  bool keeps_factors_ = false;                      ///< for a later solve
  std::vector<double> factor_alpha_, factor_beta_;  ///< what the matrix factorised last was made of
  std::vector<char> factor_pinned_;
  double factor_storage_m2s_ = 0.0;
  std::vector<double> from_head_, from_low_, from_flow_, target_flow_;
  std::vector<double> kept_head_, kept_low_, kept_flow_;  ///< the state to go back to
  std::vector<Hold> kept_hold_;
};

}  // namespace runnel::steady
