#pragma once
// Follows a system through time: takes the steps, stops at events and decides when to end.
#include "runnel/filling/recorder.h"
#include "runnel/filling/rest_watch.h"
#include "runnel/filling/seek.h"
#include "runnel/filling/state_teller.h"
#include "runnel/filling/sway_watch.h"

namespace runnel::filling {

class Run {
 public:
  /// `teller`: makes the states for `FillOptions::look`; null if nobody looks.
  Run(const network::System& system, const FillOptions& options, const StateTeller* teller = nullptr);
  FillHistory go();

 private:
  bool begin();
  bool step();
  bool try_step(double room_s);
  double aim(double h);
  bool catch_events();
  bool met_the_mark(const std::optional<Found>& found) const;
  bool land(const Found& found, bool there);
  bool arrive(double room_s, double boundary_s);
  bool ends_at_stage() const;
  void leap_or_look(bool hasty, bool was_leap);
  void take_draws(std::vector<Event>& events);
  void mark_event(std::vector<Event>& events) const;
  bool over();
  double boundary_s() const;
  double first_step_s() const;
  double least_step_s() const { return 1e-10 + 1e-13 * time_s_; }
  bool floats_still_vary() const;
  bool goes_on_so() const;
  bool nothing_new() const;
  bool interrupted();
  void show(double beside_s = 0.0);

  const network::System& system_;
  const StateTeller* teller_;
  FillOptions options_;
  FillHistory history_;
  Basins basins_;
  Radau radau_;
  Seeker seeker_;
  RestWatch rest_;
  SwayWatch sway_;
  Recorder recorder_;
  Eigen::VectorXd volume_, rate_;
  Instant now_;
  Trial trial_;
  double time_s_ = 0.0, step_s_ = 0.0, end_s_ = 0.0;
  int hasty_ = 0;         ///< regime changes caught one right after the other
  bool leaping_ = false;  ///< the next step is a leap, not cut where laws change
  double leap_s_ = 0.0;   ///< the longest that the leap may be
  bool cut_ = false;      ///< the step was shortened to where laws change
  int blind_ = 0;         ///< so many steps more look for changes of rims only
  int longest_blind_ = 0;
  std::optional<Found> pending_;
  std::optional<Found> aimed_at_;  ///< the mark that the present trial should end on
  double aimed_within_s_ = 0.0;    ///< the step that it was looked for in
  bool something_runs_ = false;    ///< at the start already, so that full tanks do not end the run at once
  double shown_s_ = 0.0;           ///< when `look` was last called
  long asked_at_ = 0;              ///< work done when `progress` was last called
};

}  // namespace runnel::filling
