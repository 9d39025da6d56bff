#include "runnel/verdict/reasons.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/change.h"
#include "runnel/network/floats.h"
#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"
#include "runnel/steady/solver.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/cure_lasts.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/digging.h"
#include "runnel/verdict/dug_points.h"
#include "runnel/verdict/lifted.h"
#include "runnel/verdict/next_size.h"
#include "runnel/verdict/opened_wide.h"
#include "runnel/verdict/reason_search.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/siphon_rules.h"

namespace runnel::verdict {
namespace {

using network::System;

// Lines solved in all trials together: a second or less on a small machine.
constexpr std::size_t budget_lines = 60000;
// A trial counts the air of the start, and costs about so much more for it.
constexpr std::size_t with_air_costs = 4;
constexpr double just_open_m = 1e-3;

bool to_be_explained(const AskResult& r) {
  return r.missed() && !r.met_until_s && !r.met_only_primed && !r.low_water && !r.held_by_air() &&
         r.ask.kind != network::AskKind::full_within;
}

/// Whether a tank that stands full loses more than it ever gets, so that nobody keeps it full. Its float
/// valve counts as open, since it can be set higher.
bool sinks_when_full(const network::System& system, const steady::State& now, const steady::State& full,
                     std::size_t tank) {
  if (full.outcome != steady::Outcome::settled) return false;
  const std::string& name = system.tanks()[tank].name;
  const double comes_m3s = brought_m3s(system, full, name);
  const double leaves_m3s = comes_m3s - full.tanks[tank].inflow_m3s;
  return std::max(comes_m3s, brought_m3s(system, now, name)) < leaves_m3s - network::flow_grain_m3s;
}

double two_digits(double value) {
  const double unit = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
  return std::ceil(value / unit - 1e-9) * unit;
}

}  // namespace

ReasonSearch::ReasonSearch(const System& system, std::vector<AskResult>& asks)
    : system_(system), asks_(asks), solver_(system), left_(budget_lines) {
  for (std::size_t i = 0; i < asks.size(); ++i)
    if (to_be_explained(asks[i])) missed_.push_back(i);
}

bool ReasonSearch::afford() {
  const std::size_t cost = (system_.lines().size() + 1) * with_air_costs;
  if (left_ < cost) return false;
  left_ -= cost;
  return true;
}

std::optional<std::vector<AskResult>> ReasonSearch::needs(const System& system, const steady::State& state,
                                                          bool of_stores) const {
  if (!state.proved()) return std::nullopt;
  const auto after = follow_siphons(system, state);
  if (after && after->state.outcome != steady::Outcome::settled) return std::nullopt;
  const System& then = after ? after->system : system;
  const steady::State& runs = after ? after->state : state;
  const std::vector<AskResult> at_first = with_air(then, judge_asks(then, runs));
  std::vector<AskResult> asks = needs_cured_for_good(then, runs, missed_, at_first, of_stores);
  if (trying_works_) keep_what_comes_at_first(then, runs, missed_, at_first, asks);
  return asks;
}

std::vector<AskResult> ReasonSearch::with_air(const System& system, std::vector<AskResult> asks) {
  judge_with_air(system, held_by_air(system), asks);
  return asks;
}

std::optional<std::vector<AskResult>> ReasonSearch::judged(bool of_stores) {
  if (!afford()) return std::nullopt;
  auto now = needs(solver_.system(), solver_.answer(), of_stores);
  for (const std::size_t i : missed_)
    if (now && held_at_tap(solver_.system(), (*now)[i]) && afford()) try_wide_open(solver_, (*now)[i]);
  return now;
}

void ReasonSearch::offer(const Reason& reason, const std::optional<std::vector<AskResult>>& now) {
  if (!now) return;
  for (const std::size_t i : missed_) {
    if (reason.bound == Bound::pipe && (*now)[i].met) cured_by_pipe_.insert(i);
    const double gain = worth_si((*now)[i]) - base_[i];
    if (!(gain > worth_naming * asks_[i].asked.si)) continue;
    // What meets the need for good comes before what meets it until stores are drawn down.
    const bool more = asks_[i].reason && asks_[i].reason->cures != (*now)[i].met && for_a_while(i, *now)
                          ? (*now)[i].met
                          : gain > gain_[i];
    if (!more) continue;
    if (last_resort_ && asks_[i].reason) continue;
    gain_[i] = gain;
    asks_[i].reason = reason;
    promise(*now, i);
  }
}

bool ReasonSearch::for_a_while(std::size_t ask, const std::vector<AskResult>& now) const {
  return asks_[ask].reason->for_now || now[ask].met_for_now;
}

void ReasonSearch::promise(const std::vector<AskResult>& now, std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  reason.at_first = now[ask].at_first.has_value();
  reason.enough_at_first = reason.at_first && now[ask].at_first->si >= now[ask].asked.si;
  reason.with = reason.at_first ? *now[ask].at_first : *now[ask].got;
  reason.cures = now[ask].met;
  reason.for_now = now[ask].met_for_now;
  reason.leaves_short = short_with(now, asks_[ask].ask.at);
}

std::string ReasonSearch::short_with(const std::vector<AskResult>& now, const std::string& cured) const {
  for (std::size_t i = 0; i < now.size(); ++i)
    if (asks_[i].judged && asks_[i].met && asks_[i].ask.at != cured && now[i].judged && !now[i].met)
      return asks_[i].ask.at;
  return {};
}

/// Opens a tap that is asked for water and stands shut.
void ReasonSearch::shut_taps() {
  for (std::size_t o = 0; o < system_.outlets().size(); ++o) {
    const network::Outlet& outlet = system_.outlets()[o];
    if (!outlet.shut || !missed_at(outlet.name)) continue;
    solver_.shut(static_cast<int>(o), false);
    offer({.bound = Bound::shut_tap, .place = outlet.name});
    solver_.shut(static_cast<int>(o), true);
  }
}

/// Nothing where the wider tap would take from others what they need.
std::optional<std::vector<AskResult>> ReasonSearch::needs_at_opening(const std::string& outlet,
                                                                     double bore_m) const {
  const auto wider = with_opening(system_, outlet, bore_m);
  auto now = needs_of(wider);
  for (std::size_t i = 0; now && i < asks_.size(); ++i)
    if (asks_[i].met && !(*now)[i].met) return std::nullopt;
  return now;
}

/// Makes a tap that is asked for water and is narrower than its pipe a step wider.
void ReasonSearch::openings() {
  for (std::size_t o = 0; o < system_.outlets().size(); ++o) {
    const network::Outlet& outlet = system_.outlets()[o];
    const double now_m = outlet.opening.metres(), most_m = bore_behind_m(system_, static_cast<int>(o));
    if (outlet.shut || !missed_at(outlet.name) || !(now_m > 0.0 && now_m < most_m) || !afford()) continue;
    const double tried_m = std::min(most_m, next_opening_m(now_m));
    offer({.bound = Bound::opening, .place = outlet.name, .dug_m = tried_m},
          needs_at_opening(outlet.name, tried_m));
  }
}

/// Fills the tanks that take water for ever and puts float valves on them.
void ReasonSearch::open_tanks(const steady::State& state) {
  const Reason reason{.bound = Bound::open_tanks, .taps = tanks_without_end(system_, state)};
  if (reason.taps.empty() || !afford()) return;
  const System full = network::with_floats_shut(system_, reason.taps);
  offer(reason, needs(full, steady::solve(full)));
}

/// Shuts all taps that run free, except those of the needs that are missed. `all`: those too that let out no
/// more than people want there, and all that joints draw. Whoever throttles them takes water from somebody.
void ReasonSearch::other_taps(bool all) {
  std::vector<int> running, drawing;
  Reason reason{.bound = Bound::other_taps};
  for (std::size_t o = 0; o < system_.outlets().size(); ++o) {
    const network::Outlet& outlet = system_.outlets()[o];
    if (outlet.shut || missed_at(outlet.name)) continue;
    if (!all && system_.lets_out(static_cast<int>(o))) continue;
    running.push_back(static_cast<int>(o));
    reason.taps.push_back(outlet.name);
  }
  for (std::size_t j = 0; all && j < system_.joints().size(); ++j) {
    const network::Joint& joint = system_.joints()[j];
    if (!(joint.draw > Flow{}) || missed_at(joint.name)) continue;
    drawing.push_back(static_cast<int>(j));
    reason.taps.push_back(joint.name);
  }
  if (reason.taps.empty()) return;
  for (const int o : running) solver_.shut(o, true);
  for (const int j : drawing) solver_.draw(j, Flow{});
  offer(reason);
  for (const int o : running) solver_.shut(o, false);
  for (const int j : drawing) solver_.draw(j, system_.joints()[static_cast<std::size_t>(j)].draw);
}

/// Throttles other taps to what is asked of them, so that tanks fill from which the needs are met.
void ReasonSearch::tanks_left_to_fill() {
  const auto explained = [&](std::size_t i) { return asks_[i].reason.has_value(); };
  Reason reason{.bound = Bound::other_taps,
                .taps = taps_that_take_more(system_.model()),
                .throttled = true,
                .once_filled = true};
  std::erase_if(reason.taps, [&](const std::string& tap) { return missed_at(tap); });
  if (reason.taps.empty() || std::all_of(missed_.begin(), missed_.end(), explained) || !afford()) return;
  const auto throttled = with_taps_throttled(system_, reason.taps);
  if (throttled) offer(reason, needs_of(with_tanks_filled(*throttled)));
}

void ReasonSearch::valves(int l) {
  const network::Line& line = system_.lines()[static_cast<std::size_t>(l)];
  for (const network::FittedPart& part : line.parts) {
    if (part.kind != network::PartKind::valve || part.open >= 1.0 || !afford()) continue;
    const auto opened = with_open_valve(system_, part.name);
    if (!opened) continue;
    const double at_m = part.at.metres();
    offer({.bound = Bound::shut_valve, .line = line.name, .part = part.name, .from_m = at_m, .to_m = at_m},
          needs_of(opened));
  }
}

/// Takes out each named reducing or check valve: it may be set too low, or bar the way.
void ReasonSearch::held_valves(int l) {
  const network::Line& line = system_.lines()[static_cast<std::size_t>(l)];
  for (const network::FittedPart& part : line.parts) {
    const bool holds =
        part.kind == network::PartKind::reducing_valve || part.kind == network::PartKind::check_valve;
    if (!holds || part.name.empty() || !afford()) continue;
    const auto freed = without_part(system_, line.name, part.name);
    if (!freed) continue;
    const double at_m = part.at.metres();
    offer({.bound = Bound::held_valve, .line = line.name, .part = part.name, .from_m = at_m, .to_m = at_m},
          needs_of(freed));
  }
}

/// Throttles the lines that end in tanks below a pressure that is missed, until it stands: water that runs
/// out freely presses nowhere.
void ReasonSearch::free_ends(const steady::State& state) {
  const bool pressure = std::any_of(missed_.begin(), missed_.end(), [&](std::size_t i) {
    return asks_[i].ask.kind == network::AskKind::pressure;
  });
  if (!pressure) return;
  for (std::size_t l = 0; l < system_.lines().size(); ++l) {
    const network::Line& line = system_.lines()[l];
    const bool ends = system_.kind(line.to) == network::PlaceKind::tank;
    if (!ends || !(state.lines[l].flow_m3s > network::no_flow_m3s)) continue;
    double too_little = 1.0;
    std::optional<std::vector<AskResult>> cured;
    double loss = 0.0;
    const auto cures = [&](double tried) {
      auto now = afford() ? needs_of(with_throttled_end(system_, line.name, tried)) : std::nullopt;
      const bool met = now && std::any_of(missed_.begin(), missed_.end(), [&](std::size_t i) {
                         return (*now)[i].met && asks_[i].ask.kind == network::AskKind::pressure;
                       });
      if (!met) return false;
      cured = std::move(now);
      loss = tried;
      return true;
    };
    for (const double tried : {1e2, 3e2, 1e3, 3e3, 1e4, 3e4}) {
      if (cures(tried)) break;
      too_little = tried;
    }
    if (!cured) continue;
    // No more than it takes: every loss more takes water from the tank.
    for (int halving = 0; halving < 4; ++halving) {
      const double middle = two_digits(std::sqrt(too_little * loss));
      if (middle <= too_little || middle >= loss) break;
      if (!cures(middle)) too_little = middle;
    }
    offer({.bound = Bound::free_end, .place = system_.place_name(line.to), .line = line.name, .loss = loss},
          cured);
  }
}

void ReasonSearch::pipes(int l) {
  const network::Line& line = system_.lines()[static_cast<std::size_t>(l)];
  for (std::size_t p = 0; p < line.pipes.size(); ++p) {
    const auto wider = next_size(line.pipes[p].pipe);
    if (!wider || !solver_.lay(l, static_cast<int>(p), *wider)) continue;
    const double to_m = p + 1 < line.pipes.size() ? line.pipes[p + 1].from.metres() : line.course.last_m();
    offer({.bound = Bound::pipe,
           .line = line.name,
           .from_m = std::max(line.pipes[p].from.metres(), line.course.first_m()),
           .to_m = to_m,
           .pipe = wider->name});
    solver_.lay(l, static_cast<int>(p), line.pipes[p].pipe);
  }
}

void ReasonSearch::high_point(int l, const steady::LineState& run) {
  const network::Line& line = system_.lines()[static_cast<std::size_t>(l)];
  std::vector<double> air_at_m;
  for (const AirPlace& held : held_)
    if (held.pipeline == line.name) air_at_m.push_back(held.station_m);
  for (const int point : holding_points(line, run, air_at_m)) {
    if (!afford()) return;
    const auto dug = network::with_dug_point(system_, l, point, Length::metres(most_dug_m));
    if (!dug) continue;
    const double station_m = line.survey[static_cast<std::size_t>(point)].station.metres();
    offer({.bound = Bound::high_point,
           .line = line.name,
           .from_m = station_m,
           .to_m = station_m,
           .dug_m = most_dug_m},
          needs_of(dug.value));
  }
}

/// Sets a mouth deeper that is hardly covered by the water in its box.
void ReasonSearch::mouth(int l, const steady::State& state) {
  const network::Line& line = system_.lines()[static_cast<std::size_t>(l)];
  const bool from_box = system_.kind(line.from) == network::PlaceKind::box &&
                        state.lines[static_cast<std::size_t>(l)].flow_m3s > 0.0;
  if (!from_box || !network::mouth_limits(system_, state, static_cast<std::size_t>(l)) || !afford()) return;
  const auto deeper = with_deeper_mouth(system_, l, deeper_m.back());
  if (!deeper) return;
  offer({.bound = Bound::mouth,
         .place = system_.place_name(line.from),
         .line = line.name,
         .from_m = line.course.first_m(),
         .to_m = line.course.first_m(),
         .dug_m = deeper_m.back()},
        needs_of(deeper));
}

/// Whether a tank takes water from the needs that are missed, and gives none of them any.
bool ReasonSearch::takes_only(const std::string& tank) const {
  return std::none_of(missed_.begin(), missed_.end(), [&](std::size_t i) {
    return asks_[i].ask.at == tank || gives_to(system_.model(), tank, asks_[i].ask.at);
  });
}

void ReasonSearch::sources(const Way& way) {
  for (std::size_t b = 0; b < system_.boxes().size(); ++b) {
    const network::Box& box = system_.boxes()[b];
    if (!(box.yield.si() > 0.0) || !way.places.count(system_.box_place(static_cast<int>(b)))) continue;
    solver_.yield(static_cast<int>(b), box.yield * 2.0);
    offer({.bound = Bound::spring, .place = box.name});
    solver_.yield(static_cast<int>(b), box.yield);
  }
  if (system_.tanks().empty()) return;
  const steady::State now = solver_.answer();
  for (std::size_t t = 0; t < system_.tanks().size(); ++t) {
    const network::Tank& tank = system_.tanks()[t];
    if (!way.places.count(system_.tank_place(static_cast<int>(t)))) continue;
    const auto floats = network::floats_of(system_.model(), tank);
    const bool shut = !floats.empty() && tank.level >= floats.front().shuts_at;
    const Length tried = shut ? floats.front().shuts_at - Length::metres(just_open_m) : tank.lip;
    if (!shut && tank.level >= tank.lip) continue;
    if (!shut && !floats.empty() && takes_only(tank.name)) {
      solver_.level(static_cast<int>(t), floats.front().shuts_at);
      offer({.bound = Bound::other_taps, .taps = {tank.name}}, judged(false));
      solver_.level(static_cast<int>(t), tank.level);
      continue;
    }
    solver_.level(static_cast<int>(t), tried);
    // A float valve can be set higher: as it is, it would let the tank sink again.
    if (shut || !sinks_when_full(system_, now, solver_.answer(), t))
      offer({.bound = shut ? Bound::float_valve : Bound::tank_level, .place = tank.name},
            judged(floats.empty()));
    solver_.level(static_cast<int>(t), tank.level);
  }
}

void ReasonSearch::run() {
  if (missed_.empty()) return;
  const steady::State state = solver_.answer();
  if (state.outcome != steady::Outcome::settled) return;
  const auto now = needs(system_, state);
  if (!now) return;
  for (const AskResult& r : *now) {
    base_.push_back(got_si(r));
    if (r.air) held_.insert(held_.end(), r.air->held.begin(), r.air->held.end());
  }
  gain_.assign(asks_.size(), 0.0);
  std::vector<int> wanted;
  for (const std::size_t i : missed_)
    if (const auto place = system_.find_place(asks_[i].ask.at)) wanted.push_back(*place);
  const Way way = way_to(system_, state, wanted);
  shut_taps();
  trying_works_ = true;
  openings();
  trying_works_ = false;
  sources(way);
  trying_works_ = true;
  for (const int l : way.lines) {
    valves(l);
    held_valves(l);
    high_point(l, state.lines[static_cast<std::size_t>(l)]);
    mouth(l, state);
    pipes(l);
  }
  trying_works_ = false;
  free_ends(state);
  open_tanks(state);
  other_taps(false);
  last_resort_ = true;
  other_taps(true);
  tanks_left_to_fill();
  for (const std::size_t i : missed_) {
    if (!asks_[i].reason) continue;
    asks_[i].reason->pipe_cures = cured_by_pipe_.count(i) > 0;
    trying_works_ = asks_[i].reason->bound != Bound::spring;
    if (asks_[i].reason->bound == Bound::pipe) follow_pipe(i);
    if (asks_[i].reason->bound == Bound::spring) follow_spring(i);
    if (asks_[i].reason->bound == Bound::opening) follow_opening(i);
    if (asks_[i].reason->bound == Bound::high_point) follow_dig(i);
    if (asks_[i].reason->bound == Bound::mouth) follow_mouth(i);
    if (asks_[i].reason->bound == Bound::other_taps) follow_taps(i);
    if (asks_[i].reason->bound == Bound::held_valve) follow_setting(i);
    follow_filling(i);
  }
}

void find_reasons(const System& system, std::vector<AskResult>& asks) { ReasonSearch(system, asks).run(); }

}  // namespace runnel::verdict
