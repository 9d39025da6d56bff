#pragma once
// The march through time: steps, halts at events, and the reasons to end.
#include "runnel/filling/recorder.h"
#include "runnel/filling/seek.h"

namespace runnel::filling {

class Run {
 public:
  Run(const network::System& system, const FillOptions& options);
  FillHistory go();

 private:
  bool begin();
  bool step();
  bool try_step(double room_s);
  bool catch_events();
  bool land(const Found& found);
  bool arrive(double room_s);
  void take_draws(std::vector<Event>& events);
  void mark_event(std::vector<Event>& events) const;
  void watch_rest();
  void watch_days();
  bool over();
  void judge_never();
  double boundary_s() const;
  double first_step_s() const;
  double least_step_s() const { return 1e-10 + 1e-13 * time_s_; }
  void fail(const std::string& why);

  const network::System& system_;
  FillOptions options_;
  FillHistory history_;
  Basins basins_;
  Radau radau_;
  Seeker seeker_;
  Recorder recorder_;
  Eigen::VectorXd volume_, rate_, yesterday_;
  Instant now_;
  Trial trial_;
  double time_s_ = 0.0, step_s_ = 0.0, end_s_ = 0.0;
  int hasty_ = 0;       ///< regime changes caught one right after the other
  bool cut_ = false;    ///< the step was shortened to where laws change
  bool blind_ = false;  ///< the next step looks for none
  std::optional<Found> pending_;
};

}  // namespace runnel::filling
