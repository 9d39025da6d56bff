#include "runnel/verdict/use_states.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "runnel/base/capital.h"
#include "runnel/filling/typical_day.h"
#include "runnel/network/change.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/verdict/at_moment.h"

namespace runnel::verdict {
namespace {

using network::System;

// Of a large village not every float valve is tried alone at every hour, nor every tap alone: so many lines
// in all states together, which takes about a second. A judgement.
constexpr std::size_t most_lines_solved = 6000;
constexpr std::size_t least_taps_alone = 8;

/// A state before it is solved.
struct Use {
  System system;
  Sentence when;
};

/// "6:30" is told as hours, since a model writes them so.
Sentence from_hour_on(double hour) {
  const int minutes = static_cast<int>(std::lround(hour * 60.0));
  const std::string rest = std::to_string(minutes % 60);
  return Sentence().say("From " + std::to_string(minutes / 60) + (rest.size() == 1 ? ":0" : ":") + rest +
                        " on");
}

/// A condition behind an hour, or at the head of its sentence.
Sentence begun(const Sentence& hour, const std::string& words) {
  if (hour.empty()) return Sentence().say(with_capital(words));
  return Sentence().append(hour).say(", ").say(words);
}

bool has_float(const System& system, const network::Tank& tank) {
  return !tank.held && !network::floats_of(system.model(), tank).empty();
}

/// `each`: every float valve alone as well.
void add_floats(const System& there, const Sentence& hour, bool each, std::vector<Use>& states) {
  const System full = network::with_full_tanks(there);
  states.push_back({full, begun(hour, "once the tanks are full")});
  const auto floats = std::count_if(there.tanks().begin(), there.tanks().end(),
                                    [&](const network::Tank& tank) { return has_float(there, tank); });
  // A millimetre over where they shut float valves pass nothing; there they pass what is drawn.
  System shut = full;
  for (const network::Tank& tank : full.tanks())
    if (has_float(there, tank))
      shut = network::with_level(shut, tank.name, tank.level + Length::millimetres(1.0));
  System every = full;
  for (const network::Tank& tank : there.tanks()) {
    if (!has_float(there, tank)) continue;
    const Length level = std::max(tank.floor, network::all_open(network::floats_of(there.model(), tank)));
    every = network::with_level(every, tank.name, level);
    if (!each) continue;
    states.push_back(
        {network::with_level(shut, tank.name, level), begun(hour, "while the float valve of ")
                                                          .name(tank.name)
                                                          .say(floats > 1 ? " alone is open" : " is open")});
  }
  if (floats > 1) states.push_back({std::move(every), begun(hour, "while all float valves are open")});
}

/// A tap that people shut, unlike an open end.
bool shuts(const network::Outlet& tap) { return !tap.shut && tap.opening.metres() > 0.0; }

/// The taps that stand open and can be shut.
std::vector<std::size_t> open_taps(const System& system) {
  const auto& taps = system.model().outlets;
  std::vector<std::size_t> open;
  for (std::size_t t = 0; t < taps.size(); ++t)
    if (shuts(taps[t])) open.push_back(t);
  return open;
}

/// How many of them are tried alone.
std::size_t taps_tried_alone(const System& system) {
  return std::max(least_taps_alone, most_lines_solved / std::max<std::size_t>(1, system.lines().size()));
}

/// Whether each float valve is tried alone at every hour.
bool tries_each_float(const System& system, const std::vector<double>& hours) {
  return hours.size() * system.tanks().size() * system.lines().size() <= most_lines_solved;
}

/// Each tap open while the others are shut, where some others are open as drawn; of very many the lowest,
/// below which the water stands highest.
void add_taps_alone(const System& system, std::vector<Use>& states) {
  const auto& taps = system.model().outlets;
  const std::vector<std::size_t> open = open_taps(system);
  if (open.size() < 2) return;
  std::vector<std::size_t> alone = open;
  std::stable_sort(alone.begin(), alone.end(),
                   [&](std::size_t a, std::size_t b) { return taps[a].elevation < taps[b].elevation; });
  alone.resize(std::min(alone.size(), taps_tried_alone(system)));
  for (const std::size_t one : alone) {
    network::Model model = system.model();
    for (const std::size_t other : open) model.outlets[other].shut = other != one;
    if (auto there = network::resolve(std::move(model)))
      states.push_back(
          {std::move(*there.value), Sentence().say("While ").name(taps[one].name).say(" alone is open")});
  }
}

/// Whether more runs into some tank the lower it stands.
bool some_fills_from_below(const System& system) {
  return std::any_of(system.tanks().begin(), system.tanks().end(), [&](const network::Tank& tank) {
    return !tank.held && tank.inlet < network::full_level(system.model(), tank);
  });
}

/// The moments of a usual day at which tanks stand low.
void add_low_tanks(const System& system, std::vector<Use>& states) {
  if (!some_fills_from_below(system) || !network::has_draws(system.model())) return;
  for (const filling::MomentOfDay& moment : filling::typical_day(system).moments) {
    auto there = network::resolve(at_moment(network::as_people_open_it(system.model(), moment.hour), moment));
    if (!there) continue;
    Sentence when = Sentence().say("When ").name(moment.tank).say(" stands at ");
    states.push_back({std::move(*there.value), when.figure(Kind::elevation, moment.level_m)});
  }
}

/// Whether anything that users or float valves shut lets a box above it fill.
bool lets_boxes_fill(const System& system) {
  const auto& tanks = system.tanks();
  const auto& taps = system.model().outlets;
  return !network::hours_of_change(system.model()).empty() ||
         std::any_of(tanks.begin(), tanks.end(),
                     [&](const network::Tank& tank) { return has_float(system, tank); }) ||
         std::any_of(taps.begin(), taps.end(), shuts);
}

/// Water of a box that stores runs as if its spring gave whatever the lines carry, once taps or float valves
/// that were shut have let the box fill.
void add_full_boxes(const System& system, std::vector<Use>& states) {
  const auto box = std::find_if(system.boxes().begin(), system.boxes().end(),
                                [](const network::Box& one) { return one.stores(); });
  if (box == system.boxes().end() || !lets_boxes_fill(system)) return;
  const Flow whatever_runs = Flow::from_si(1.0);  // more than farm pipe carries
  std::vector<Flow> yields;
  for (const network::Box& one : system.boxes())
    yields.push_back(one.stores() ? one.yield + whatever_runs : one.yield);
  const std::size_t before = states.size();
  for (std::size_t s = 0; s < before; ++s)
    states.push_back({network::with_yields(states[s].system, yields),
                      Sentence().append(states[s].when).say(" and ").name(box->name).say(" full")});
  states.push_back(
      {network::with_yields(system, yields), Sentence().say("With ").name(box->name).say(" full")});
}

std::vector<Use> uses_of(const System& system) {
  std::vector<Use> states;
  const bool tanks = !system.tanks().empty();
  if (tanks) add_floats(system, {}, true, states);
  const std::vector<double> hours = network::hours_of_change(system.model());
  const bool each = tries_each_float(system, hours);
  for (const double hour : hours) {
    auto there = network::resolve(network::as_people_open_it(system.model(), hour));
    if (!there) continue;
    const Sentence when = from_hour_on(hour);
    states.push_back({*there.value, when});
    if (tanks) add_floats(*there.value, when, each, states);
  }
  add_taps_alone(system, states);
  add_low_tanks(system, states);
  add_full_boxes(system, states);
  return states;
}

}  // namespace

bool leaves_out_uses(const System& system) {
  const bool some_float = std::any_of(system.tanks().begin(), system.tanks().end(),
                                      [&](const network::Tank& tank) { return has_float(system, tank); });
  return open_taps(system).size() > taps_tried_alone(system) ||
         (some_float && !tries_each_float(system, network::hours_of_change(system.model())));
}

std::vector<UseState> use_states(const System& system) {
  std::vector<UseState> states;
  for (Use& use : uses_of(system)) {
    steady::State state = steady::solve(use.system);
    if (state.proved()) states.push_back({std::move(use.system), std::move(state), std::move(use.when)});
  }
  return states;
}

}  // namespace runnel::verdict
