#pragma once
// Watches while tanks fill: at every instant shown, is what the model asks for there?
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/draws.h"
#include "runnel/network/system.h"
#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/velocity_asks.h"

namespace runnel::verdict {

/// A need of flow or pressure at the instant at which it gets least.
struct WatchedAsk {
  AskResult least;
  double at_s = 0.0;
  double first_met_s = 0.0;  ///< after it was missed; 0: it never was
  double tried_si = 0.0;     ///< what came when it was last held to the air of the start
  bool reached = false;      ///< from empty: met at some instant
};

/// Pass `look` on to filling::FillOptions::look. The system must outlive it.
class FillWatch {
 public:
  /// `start_hour`: the time of day at which the clock of the run stands at zero. `from_empty`: a need that
  /// water has yet to reach counts from when it is first met; one that is never met, by the best that it
  /// gets.
  explicit FillWatch(const network::System& system, double start_hour = 0.0, bool from_empty = false);

  void look(double time_s, const steady::State& state);

  /// One for each ask, in the model's order; `full_within` is not judged here. Empty before the first look.
  const std::vector<WatchedAsk>& asks() const { return asks_; }
  /// One for each bound and line in which water ran, where it was worst.
  const std::vector<VelocityResult>& velocities() const { return velocities_; }
  /// How the lines start from empty, the tanks as at the start; none before the first look.
  const std::optional<AirAnswer>& air() const { return air_; }
  long instants() const { return instants_; }

  /// Whether a need is missed from empty at every instant, so that its figure is the best that it gets.
  bool never_met_from_empty(std::size_t ask) const { return from_empty_ && !asks_[ask].reached; }
  /// Whether no way to it starts from empty.
  bool blocked(const std::string& place) const;

 private:
  void look_at_velocities(const steady::State& state);
  bool due(const network::Ask& ask, double time_s) const;
  void hold_to_air(const steady::State& state, std::vector<AskResult>& now);
  void keep(std::size_t ask, AskResult now, double time_s);

  const network::System& system_;
  bool from_empty_;
  std::map<std::string, filling::DrawSchedule> drawn_;  ///< taps and joints with draws by the hour
  std::vector<WatchedAsk> asks_;
  std::vector<VelocityResult> velocities_;
  std::optional<AirAnswer> air_;
  long instants_ = 0;
};

/// The first need that is met in the other states and missed at some instant of a run, where it gets least.
std::optional<AskResult> short_in(const FillWatch& watch, const std::vector<AskResult>& asks);

}  // namespace runnel::verdict
