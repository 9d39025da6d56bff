#include "runnel/verdict/fill_watch.h"

#include <algorithm>

#include "runnel/network/change.h"
#include "runnel/verdict/air_flow.h"

namespace runnel::verdict {
namespace {

constexpr double rounding_of_sums = 1e-9;  // of a draw that is the sum of several
constexpr double open_yet_m = 1e-6;        // below the level at which a float valve shuts
// Less than this share more of what comes is not worth another look at the air.
constexpr double hardly_more = 1e-3;

/// Whether `a` is worse off than `b`: not met before met, nothing before something, less before more. What is
/// not judged (no water is wanted where a float valve is shut) counts for nothing.
bool worse(const AskResult& a, const AskResult& b) {
  if (!a.judged || !b.judged) return a.judged;
  if (a.met != b.met) return !a.met;
  if (!a.got || !b.got) return !a.got && b.got;
  return a.got->si < b.got->si;
}

/// Whether a tank already stands where one of the lines into it shuts: then it wants no more than the others
/// bring.
bool some_float_shut(const network::System& system, const steady::State& state, const std::string& tank) {
  const auto place = system.find_place(tank);
  if (!place || !system.tank(tank)) return false;
  const auto& lines = system.lines_at(*place);
  return std::any_of(lines.begin(), lines.end(), [&](int l) {
    const auto index = static_cast<std::size_t>(l);
    return system.lines()[index].float_valve && state.lines[index].condition == steady::LineCondition::shut;
  });
}

/// The same with its tanks as high as they stand in a state.
network::System at_levels_of(const network::System& system, const steady::State& state) {
  network::System out = system;
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    const network::Tank& tank = system.tanks()[t];
    if (tank.held || !state.tanks[t].level_m) continue;
    const Length level = Length::metres(*state.tanks[t].level_m - open_yet_m);
    out = network::with_level(out, tank.name, std::max(tank.floor, level));
  }
  return out;
}

}  // namespace

FillWatch::FillWatch(const network::System& system, double start_hour, bool from_empty)
    : system_(system), from_empty_(from_empty) {
  const auto take = [&](const auto& places) {
    for (const auto& place : places)
      if (!place.draws.empty()) drawn_.emplace(place.name, filling::DrawSchedule(place.draws, start_hour));
  };
  take(system.outlets());
  take(system.joints());
}

/// At a tap or a joint where people draw by the hour, a flow is due while they draw that much, and a pressure
/// while they draw at all.
bool FillWatch::due(const network::Ask& ask, double time_s) const {
  const auto drawn = drawn_.find(ask.at);
  if (drawn == drawn_.end()) return true;
  const double now_m3s = drawn->second.rate_m3s(time_s);
  if (ask.kind == network::AskKind::pressure) return now_m3s > 0.0;
  const network::Joint* joint = system_.joint(ask.at);
  const double most_m3s = joint ? joint->draw.si() : ask.flow.si();
  return now_m3s >= std::min(ask.flow.si(), most_m3s) * (1.0 - rounding_of_sums);
}

void FillWatch::look(double time_s, const steady::State& state) {
  ++instants_;
  std::vector<AskResult> now = judge_asks(system_, state);
  for (AskResult& result : now) {
    const bool full_enough =
        result.ask.kind == network::AskKind::flow && some_float_shut(system_, state, result.ask.at);
    if (result.ask.kind == network::AskKind::full_within || (due(result.ask, time_s) && !full_enough))
      continue;
    result.judged = result.met = false;
    result.why_not_judged = full_enough ? "a float valve of it is shut whenever it was looked at"
                                        : "at no hour that was run is so much drawn there";
  }
  look_at_velocities(state);
  if (!air_) {  // from empty a line starts once, and its air is in it from the start
    air_ = judge_air(system_, state);
    judge_with_air(system_, *air_, now);
  } else if (from_empty_) {
    hold_to_air(state, now);
  }
  if (asks_.empty())
    for (const AskResult& result : now) asks_.push_back({result, time_s, 0.0, 0.0, result.met});
  else
    for (std::size_t i = 0; i < now.size(); ++i) keep(i, std::move(now[i]), time_s);
}

/// A line that starts once its tank has risen has the air of the start in it then: a need that is met for the
/// first time has to be met with that air.
void FillWatch::hold_to_air(const steady::State& state, std::vector<AskResult>& now) {
  std::optional<std::vector<AskResult>> with_air;
  for (std::size_t i = 0; i < now.size(); ++i) {
    WatchedAsk& kept = asks_[i];
    if (kept.reached || !now[i].judged || !now[i].met || !now[i].got) continue;
    if (now[i].got->si <= kept.tried_si * (1.0 + hardly_more)) {
      now[i] = kept.least;
      continue;
    }
    kept.tried_si = now[i].got->si;
    if (!with_air) judge_with_air(system_, held_by_air(at_levels_of(system_, state)), with_air.emplace(now));
    now[i] = (*with_air)[i];
  }
}

/// Keeps the instant at which a need is worst off; from empty, until it is first met, the one at which it is
/// best off.
void FillWatch::keep(std::size_t ask, AskResult now, double time_s) {
  WatchedAsk& kept = asks_[ask];
  const bool coming = from_empty_ && !kept.reached;
  const bool first_met = coming && now.judged && now.met;
  if (first_met) {
    kept.reached = true;
    if (kept.least.judged) kept.first_met_s = time_s;
  }
  const bool better = now.judged && (!kept.least.judged || worse(kept.least, now));
  if (!first_met && !(coming ? better : worse(now, kept.least))) return;
  kept.least = std::move(now);
  kept.at_s = time_s;
}

void FillWatch::look_at_velocities(const steady::State& state) {
  for (VelocityResult& now : judge_velocities(system_, state)) {
    const auto same = [&](const VelocityResult& r) {
      return r.line == now.line && r.at_most == now.at_most && r.asked_ms == now.asked_ms;
    };
    const auto known = std::find_if(velocities_.begin(), velocities_.end(), same);
    now.reached = now.met || (known != velocities_.end() && known->reached);
    if (known == velocities_.end())
      velocities_.push_back(std::move(now));
    else if (now.at_most ? now.got_ms > known->got_ms : now.got_ms < known->got_ms)
      *known = std::move(now);
    else
      known->reached = now.reached;
  }
}

bool FillWatch::blocked(const std::string& place) const {
  return air_ && air_->paths_left_out == 0 && all_ways_blocked(*air_, place);
}

std::optional<AskResult> short_in(const FillWatch& watch, const std::vector<AskResult>& asks) {
  if (watch.asks().size() != asks.size()) return std::nullopt;
  for (std::size_t i = 0; i < asks.size(); ++i)
    if (asks[i].judged && asks[i].met && watch.asks()[i].least.missed()) return watch.asks()[i].least;
  return std::nullopt;
}

}  // namespace runnel::verdict
