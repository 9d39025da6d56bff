#pragma once
// All storages together with the flow field between them: what runs at given volumes with every float valve
// and every rim in its present state, and when such a state has to change.
#include <vector>

#include "runnel/filling/fill.h"
#include "runnel/filling/flow_field.h"
#include "runnel/filling/radau.h"
#include "runnel/filling/storage.h"

namespace runnel::filling {

/// A joint or a tap with draws by the hour.
struct DrawnPlace {
  network::PlaceKind kind = network::PlaceKind::joint;
  std::size_t index = 0;  ///< among the places of its kind
  std::string name;
  DrawSchedule draws;
  double asked_m3s = 0.0;  ///< at the present time
};

std::vector<DrawnPlace> drawn_places_of(const network::System& system, double start_hour);

class Basins : public Rates {
 public:
  /// `emptied_at_m`: as in FillOptions.
  Basins(const network::System& system, double start_hour, const std::vector<double>& emptied_at_m = {});

  std::size_t size() const { return stores_.size(); }
  std::vector<Storage>& stores() { return stores_; }
  const std::vector<Storage>& stores() const { return stores_; }
  FlowField& field() { return field_; }
  const FlowField& field() const { return field_; }
  /// Whether every float valve of a storage is shut or holds; false if it has none.
  bool floats_shut(std::size_t i) const;

  /// Volumes at the start. Water above a lip is cut off and returned in `spilled`.
  Eigen::VectorXd start(const network::System& system, bool from_empty, std::vector<double>& spilled) const;

  // Of Rates; the instants of the stages are kept.
  bool rates(int stage, const Eigen::VectorXd& volume, Eigen::VectorXd& rate) override;
  bool slopes(const Eigen::VectorXd& volume, bool fresh, Eigen::MatrixXd& slopes) override;
  double flow_scale() const override { return field_.scale_m3s(); }
  const Instant& stage(int i) const { return stage_[i]; }
  const Instant& probe() const { return probe_; }
  long solves() const { return solves_; }
  /// Newton steps of all solves, which measure what the run has cost without a clock.
  long work() const { return field_.work(); }

  /// Sets the draws of a time from storages, at joints and at taps.
  void set_draws(double time_s);
  /// Joints and taps with draws by the hour.
  const std::vector<DrawnPlace>& drawn_places() const { return places_; }
  double draw_m3s(std::size_t i) const { return draw_[i]; }
  double next_change_s(double time_s) const;
  bool any_draws() const;
  /// Whether anything is ever drawn, by the hour or all the time.
  bool anything_drawn() const { return any_draws() || joint_draws_; }
  bool steady_draws() const;

  /// At an instant: what a storage gives to its draws, what it spills, and how fast its volume rises.
  double given_m3s(std::size_t i, const Instant& now) const;
  double spill_m3s(std::size_t i, const Instant& now) const;
  double rate_m3s(std::size_t i, const Instant& now) const;

  /// Whether nothing that decides the laws differs, neither in the pipes nor at a rim.
  bool same_regime(const Instant& a, const Instant& b) const { return a.same_regime(b) && same_rims(a, b); }
  /// The part of it at which rates jump or storages change their state: rims and held float valves. Where
  /// only the laws of pipes differ, flows are continuous.
  bool same_rims(const Instant& a, const Instant& b) const;

  /// Brings every float valve and rim into the state that these volumes and flows require, and adds what
  /// happened to `events`. Afterwards `probe` is the instant. `at_stage`: the flows are those of the last
  /// stage and need not be found again. Returns false if the flows did not settle.
  bool settle(double time_s, const Eigen::VectorXd& volume, bool at_stage, std::vector<Event>& events);
  /// The rates of the last probe.
  void probed_rates(Eigen::VectorXd& rate) const;
  /// Whether some flows depend on what is drawn: a film gives what it gets, a held float valve passes what is
  /// drawn, and taps or joints have draws by the hour.
  bool flows_follow_draws() const;
  /// Whether the water of some storage that moves freely stands within the film over a mouth.
  bool in_film(const Eigen::VectorXd& volume) const;
  /// Whether the last `settle` changed any state.
  bool changed() const { return changed_; }

 private:
  /// Flows below this are rounding.
  double tiny() const { return 1e-12 * field_.scale_m3s(); }
  int beside_film(std::size_t i, const Instant& now) const;
  bool draw_met(std::size_t i, const Instant& now) const;
  int rim_sign(std::size_t i, const Instant& now) const;
  bool probe_with(std::size_t i, const Float& f, Valve valve, const Eigen::VectorXd& volume, double& surplus);
  bool settle_floats(std::size_t i, double time_s, const Eigen::VectorXd& volume, std::vector<Event>& events,
                     bool& ok);
  bool settle_float(std::size_t i, Float& f, double time_s, const Eigen::VectorXd& volume,
                    std::vector<Event>& events, bool& ok);
  void turn_float(const Storage& s, const Float& f, Valve to, double time_s, std::vector<Event>& events);
  bool shut_float(std::size_t i, const Float& f, double time_s, const Eigen::VectorXd& volume,
                  std::vector<Event>& events, bool& ok);
  bool open_float(std::size_t i, Float& f, double time_s, const Eigen::VectorXd& volume,
                  std::vector<Event>& events, bool& ok);
  bool film_at_floor(std::size_t i) const;
  bool still(std::size_t i, const Instant& now) const;
  bool rests_when_bare(std::size_t i, double bare_m3, const Eigen::VectorXd& volume, bool& ok);
  bool settle_film(std::size_t i, double time_s, const Eigen::VectorXd& volume, std::vector<Event>& events,
                   bool& ok);
  bool follow(std::size_t i, const Mouth& mouth, const Eigen::VectorXd& volume, bool& ok);
  bool settle_rim(std::size_t i, double time_s, const Eigen::VectorXd& volume, std::vector<Event>& events);
  void take_levels(const Eigen::VectorXd& volume);

  std::vector<Storage> stores_;
  std::vector<DrawnPlace> places_;
  FlowField field_;
  std::vector<double> draw_, level_;
  Instant stage_[3], probe_;
  bool changed_ = false, joint_draws_ = false, places_changed_ = false;
  long solves_ = 0;
};

}  // namespace runnel::filling
