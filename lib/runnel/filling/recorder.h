#pragma once
// Records what each step brings: sums, rows of the series, shortfalls, and the steps for the checker.
#include "runnel/filling/basins.h"

namespace runnel::filling {

class Recorder {
 public:
  Recorder(const network::System& system, Basins& basins, const FillOptions& options, FillHistory& history);

  void begin(const Eigen::VectorXd& volume, const std::vector<double>& spilled);
  /// Records a step that was taken, from `start` at `time_s`.
  void step(double time_s, const Eigen::VectorXd& start, const Trial& trial);
  /// Adds rows at a time that matters.
  void moment(double time_s, const Eigen::VectorXd& volume, const Instant& now);
  void events(const std::vector<Event>& events);
  void finish(double time_s, const Eigen::VectorXd& volume, RestKind rest);
  bool all_full() const;
  /// The tanks with an elevation in `FillOptions::emptied_at_m` that have not been emptied yet, by their
  /// number among the storages.
  std::vector<std::size_t> not_emptied() const;

 private:
  double outlet_m3s(const Instant& now) const;
  double joint_draws_m3s(const Instant& now) const;
  double box_spill_m3s(const Instant& now) const;
  void watch_places();
  double asked_m3s(std::size_t place) const;
  double place_m3s(std::size_t place, const Instant& now) const;
  void sum_places(double time_s, const Trial& trial);
  void sum_storage(std::size_t i, double time_s, const Trial& trial);
  void sum_others(const Trial& trial);
  void series(double time_s, const Eigen::VectorXd& start, const Trial& trial);
  void keep(double time_s, const Eigen::VectorXd& start, const Trial& trial);
  void judge_never();
  void add_row(std::size_t i, const Row& row);

  const network::System& system_;
  Basins& basins_;
  const FillOptions& options_;
  FillHistory& history_;
  std::vector<int> open_links_;  ///< links that end in the open air
  double next_row_s_ = 0.0;
  /// One of the history's places: the link or node where its flow is read, and what it wants.
  struct Watched {
    enum class What { flow, spill, draw } what = What::flow;
    int source = -1;
    double asked_m3s = 0.0;
    int drawn = -1;  ///< index into Basins::drawn_places; -1: no draws by the hour
  };
  std::vector<Watched> watched_;
  std::vector<FloatGroup> groups_;
};

}  // namespace runnel::filling
