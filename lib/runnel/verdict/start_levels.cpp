#include "runnel/verdict/start_levels.h"

#include <algorithm>
#include <cmath>

#include "runnel/filling/fill.h"
#include "runnel/network/change.h"
#include "runnel/network/drawn_needs.h"
#include "runnel/network/floats.h"
#include "runnel/network/mouths.h"
#include "runnel/network/no_flow.h"
#include "runnel/steady/solver.h"
#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {
namespace {

constexpr Code empty_taken_settled_rule{
    "empty-taken-settled",
    "an empty tank is judged at the level it comes to",
    "The tank is drawn with its water no higher than the line that leads out of it, or its `level` is left "
    "out, and something is asked below it. What runs out of it is worked out with the water where it comes "
    "to "
    "stand if nothing is drawn by the hour.",
    "Standing so low it gives nothing, which would say something about the first hours alone.",
    "Nothing, if that is what is meant. Write the `level` to see another moment; `runnel fill` follows the "
    "hours.",
    "the model's own levels"};

constexpr Code full_taken_empty_rule{
    "full-taken-empty",
    "a full tank is filled from its floor",
    "The model asks how long the tank takes to fill, and starts with it full. It is filled from its floor.",
    "From the level as written the answer would be that it is full at once.",
    "Nothing, if that is what is meant. Write a lower `level` to fill it from there.",
    "the model's own levels"};

constexpr Code met_once_filled_rule{
    "met-once-filled",
    "a need that is met once a tank has filled",
    "At the level as drawn some need below the tank is missed. More comes into the tank than runs out; where "
    "it "
    "comes to stand by itself, every need is met.",
    "At first less comes than is asked; and whatever empties the tank once brings that time back.",
    "Wait until it has filled before you count on it, or lay the pipe below it for a low tank.",
    "computed: the tank followed until it rises no more"};

using network::Model;
using network::Tank;

constexpr double close_m = 1e-3;   // a millimetre is no water to speak of
constexpr double little_m = 0.05;  // over a mouth, so that the pipe is covered
// Newton steps: a tenth of a second of a small system.
constexpr filling::WorkLimit patience{.at_once = 2e5, .a_day = 0.0};

}  // namespace

bool gives_nothing_yet(const Model& model, const Tank& tank) {
  const auto mouth = network::lowest_mouth(model, tank);
  if (tank.held || !mouth || tank.level > *mouth) return false;
  return std::any_of(model.asks.begin(), model.asks.end(),
                     [&](const network::Ask& ask) { return ask.at != tank.name; });
}

bool begins_empty(const Model& model) {
  return std::any_of(model.tanks.begin(), model.tanks.end(),
                     [&](const Tank& tank) { return gives_nothing_yet(model, tank); });
}

namespace {

std::optional<filling::FillHistory> filled(Model model) {
  for (Tank& tank : model.tanks) tank.draws.clear();
  const auto system = network::resolve(std::move(model));
  if (!system) return std::nullopt;
  filling::FillOptions options{.every_s = 0.0, .keep_steps = false, .work = patience};
  filling::FillHistory history = filling::fill(*system.value, options);
  if (history.outcome != filling::FillOutcome::done) return std::nullopt;
  return history;
}

/// Whether some need is missed with the tanks as they are drawn. One whose water stands at its mouth passes
/// on what comes in: it is tried with a little water over it, and must not sink.
bool misses_now(Model drawn) {
  std::vector<std::size_t> at_mouth;
  for (std::size_t t = 0; t < drawn.tanks.size(); ++t) {
    Tank& tank = drawn.tanks[t];
    const auto mouth = network::lowest_mouth(drawn, tank);
    if (!gives_nothing_yet(drawn, tank) || tank.level < *mouth - Length::metres(close_m)) continue;
    at_mouth.push_back(t);
    tank.level = std::min(tank.lip, *mouth + Length::metres(little_m));
  }
  const auto system = network::resolve(std::move(drawn));
  if (!system) return true;
  const steady::State state = steady::solve(*system.value);
  for (const std::size_t t : at_mouth)
    if (state.tanks[t].inflow_m3s < -network::no_flow_m3s) return true;
  const std::vector<AskResult> asks = judge_asks(*system.value, state);
  return std::any_of(asks.begin(), asks.end(), [](const AskResult& r) {
    return r.judged && !r.met && r.ask.kind != network::AskKind::full_within;
  });
}

/// How long a tank takes to where it comes to stand.
struct TimeToStand {
  double after_s = 0.0;
  bool full = true;  ///< false: it stands lower than full, no later than this
};

TimeToStand time_to_stand(const filling::FillHistory& history, const filling::StorageHistory& tank) {
  if (tank.full_after_s) return {*tank.full_after_s, true};
  return {history.duration_s, false};
}

/// "that takes 3 h, and longer while tanks are drawn from."
void say_time(const Model& model, const TimeToStand& time, Sentence& s) {
  const bool drawn = std::any_of(model.tanks.begin(), model.tanks.end(),
                                 [](const Tank& tank) { return !tank.draws.empty(); });
  s.say(time.full ? "that takes " : "that takes up to ").figure(Kind::duration, time.after_s);
  s.say(drawn ? ", and longer while tanks are drawn from." : ".");
}

Finding taken_settled(const Model& model, const Tank& tank, Length level, const TimeToStand& time,
                      bool matters) {
  Draft d(empty_taken_settled_rule, matters ? Severity::warning : Severity::note);
  d.at_place(tank.name);
  d.message.name(tank.name).say(
      " is drawn too low to give anything; what runs out of it is worked out with its water at ");
  d.message.figure(Kind::elevation, level.metres()).say(", where it comes to stand.");
  d.advice.say("Let ").name(tank.name).say(time.full ? " fill" : " fill as far as it can");
  d.advice.say(tank.draws.empty() ? " before you count on what comes below it: "
                                  : " before anything is drawn from it or below it: ");
  say_time(model, time, d.advice);
  return d.done();
}

Finding taken_empty(const Tank& tank) {
  Draft d(full_taken_empty_rule, Severity::warning);
  d.at_place(tank.name);
  d.message.name(tank.name).say(" is drawn full; how long it takes to fill is worked out from its floor.");
  d.advice.say("Write a lower `level` for ").name(tank.name).say(" to fill it from there.");
  return d.done();
}

/// Whether a line enters a tank so low that it drains it as well: one that is joined to another at the
/// bottom. Nothing may be asked of it, which its level decides.
bool takes_part(const Model& model, const Tank& tank) {
  if (tank.held || !network::enters_low(tank) || network::lowest_mouth(model, tank)) return false;
  return !network::asked_at(model, tank.name);
}

}  // namespace

Model with_empty_tanks_settled(Model model, std::vector<Finding>& remarks) {
  std::vector<bool> wanted;
  for (const Tank& tank : model.tanks) wanted.push_back(gives_nothing_yet(model, tank));
  if (std::find(wanted.begin(), wanted.end(), true) == wanted.end()) return model;
  const auto history = filled(model);
  if (!history) return model;
  const bool matters = misses_now(model);
  for (std::size_t t = 0; t < wanted.size(); ++t) {
    Tank& tank = model.tanks[t];
    const auto* seen = history->storage(tank.name);
    if (!seen || !(wanted[t] || takes_part(model, tank)) ||
        seen->end_level_m <= tank.level.metres() + close_m)
      continue;
    tank.level = std::min(tank.lip, Length::metres(seen->end_level_m));
    remarks.push_back(taken_settled(model, tank, tank.level, time_to_stand(*history, *seen), matters));
  }
  return model;
}

namespace {

/// Whether a tank rises to a level that stands for the time after: one that gives to a line, or one that
/// nothing is drawn from and whose float valve then shuts.
bool fills_by_itself(const Model& model, const Tank& tank) {
  if (tank.held) return false;
  return network::lowest_mouth(model, tank) || (tank.draws.empty() && !network::asked_at(model, tank.name) &&
                                                !network::floats_of(model, tank).empty());
}

/// What a tank gains at a level with the air of the start in the lines, by the law that leaves most of it
/// [m3/s]; none where no air makes a difference.
std::optional<double> gains_with_air_m3s(Model model, std::size_t tank, Length level) {
  model.tanks[tank].level = level;
  const auto system = network::resolve(std::move(model));
  if (!system) return std::nullopt;
  const AirAnswer air = held_by_air(*system.value);
  if (!air.at_first) return std::nullopt;
  std::optional<double> most_m3s;
  for (const std::size_t end : air.at_first->ends()) {
    const double gains_m3s = air.at_first->states[end].state.tanks[tank].inflow_m3s;
    if (!most_m3s || gains_m3s > *most_m3s) most_m3s = gains_m3s;
  }
  return most_m3s;
}

/// Where a tank comes to stand with the air of the start in the lines below it, which let out less; its level
/// if that is no higher.
Length level_with_air(const Model& model, std::size_t t) {
  const Tank& tank = model.tanks[t];
  const auto rises_at = [&](Length level) {
    const auto gains_m3s = gains_with_air_m3s(model, t, level);
    return gains_m3s && *gains_m3s > network::no_flow_m3s;
  };
  Length low = tank.level, high = network::full_level(model, tank);
  if (high <= low || !rises_at(low)) return low;
  if (rises_at(high)) return high;
  while (high - low > Length::metres(close_m)) {
    const Length middle = low + (high - low) * 0.5;
    (rises_at(middle) ? low : high) = middle;
  }
  return low;
}

}  // namespace

std::optional<OnceFilled> once_filled(const Model& model) {
  const bool some_low = std::any_of(model.tanks.begin(), model.tanks.end(), [&](const Tank& tank) {
    return fills_by_itself(model, tank) && tank.level < tank.lip - Length::metres(close_m);
  });
  const auto history = some_low ? filled(model) : std::nullopt;
  if (!history) return std::nullopt;
  OnceFilled then{model, {}, {}};
  Draft d(met_once_filled_rule, Severity::warning);
  std::string first;
  TimeToStand after;
  bool with_air = false;
  for (std::size_t t = 0; t < model.tanks.size(); ++t) {
    Tank& tank = then.model.tanks[t];
    const auto* seen = history->storage(tank.name);
    if (!seen || !fills_by_itself(model, tank)) continue;
    const Length without_air = std::max(tank.level, std::min(tank.lip, Length::metres(seen->end_level_m)));
    tank.level = without_air;
    tank.level = level_with_air(then.model, t);
    if (tank.level <= model.tanks[t].level + Length::metres(close_m)) {
      tank.level = model.tanks[t].level;
      continue;
    }
    with_air |= tank.level > without_air + Length::metres(close_m);
    then.condition.say(then.condition.empty() ? "once " : " and ");
    then.condition.name(tank.name).say(" stands at ").figure(Kind::elevation, tank.level.metres());
    if (!first.empty()) continue;
    first = tank.name;
    after = time_to_stand(*history, *seen);
  }
  d.at_place(first);
  if (then.condition.empty()) return std::nullopt;
  d.message.say("All that is asked comes only ").append(then.condition).say(".");
  d.advice.say("Wait until ").name(first).say(" has filled before you count on it");
  if (with_air) {
    d.advice.say("; how long that takes with air in the lines is not worked out.");
  } else {
    d.advice.say(": ");
    say_time(model, after, d.advice);
  }
  then.finding = d.done();
  return then;
}

network::System with_asked_tanks_empty(const network::System& drawn, std::vector<Finding>& remarks) {
  network::System out = drawn;
  for (const Tank& tank : drawn.tanks()) {
    const Length full = network::full_level(drawn.model(), tank);
    const bool asked = std::any_of(drawn.asks().begin(), drawn.asks().end(), [&](const network::Ask& ask) {
      return ask.kind == network::AskKind::full_within && ask.at == tank.name;
    });
    if (!asked || tank.level.metres() < full.metres() - close_m) continue;
    out = network::with_level(out, tank.name, tank.floor);
    remarks.push_back(taken_empty(tank));
  }
  return out;
}

std::vector<Code> start_levels_codes() {
  return {empty_taken_settled_rule, full_taken_empty_rule, met_once_filled_rule};
}

}  // namespace runnel::verdict
