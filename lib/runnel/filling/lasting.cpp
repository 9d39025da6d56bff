#include "runnel/filling/lasting.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/base/constants.h"
#include "runnel/filling/fill.h"
#include "runnel/filling/tank_curve.h"
#include "runnel/network/change.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"

namespace runnel::filling {
namespace {

using network::System;
using network::Tank;

// A loss of less than this share of the outflow is none: a drop a minute empties no tank within a lifetime.
constexpr double nothing_share = 1e-6;

struct Exchange {
  double in_m3s = 0.0, out_m3s = 0.0;
  double drawn_m3s = 0.0;                                    ///< at the tank itself, over a whole day
  double mouth_m = std::numeric_limits<double>::infinity();  ///< the lowest by which water leaves

  double falls_m3s() const { return out_m3s + drawn_m3s - in_m3s; }
  bool gives() const {
    return falls_m3s() > std::max(network::no_flow_m3s, nothing_share * (out_m3s + drawn_m3s));
  }
};

Exchange exchange_of(const System& system, const steady::State& state, int place) {
  Exchange x;
  const Tank& tank = *system.tank(place);
  for (const int l : system.lines_at(place)) {
    const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
    const double flow_m3s = state.lines[static_cast<std::size_t>(l)].flow_m3s;
    const bool leaves = line.from == place;
    const double out_m3s = leaves ? flow_m3s : -flow_m3s;
    if (out_m3s <= 0.0) {
      x.in_m3s -= out_m3s;
      continue;
    }
    x.out_m3s += out_m3s;
    const Length mouth = leaves ? line.start_elevation() : std::max(line.end_elevation(), tank.inlet);
    x.mouth_m = std::min(x.mouth_m, std::max(mouth, tank.floor).metres());
  }
  x.drawn_m3s = network::daily_mean(tank.draws).si();
  if (x.drawn_m3s > 0.0) x.mouth_m = std::min(x.mouth_m, tank.floor.metres());
  return x;
}

/// A tank with what is left in it as it is drawn down.
struct Holding {
  const Tank* tank;
  TankCurve curve;
  double volume_m3;  ///< what is left of the volume at its level
  std::optional<DrawnStore> drawn;

  explicit Holding(const Tank& t) : tank(&t), curve(t.shape), volume_m3(up_to(t.level.metres())) {}
  double up_to(double level_m) const { return curve.volume_m3(level_m - tank->floor.metres()); }

  /// Records the flows with which it begins to give, and again once its float valve is open, since only then
  /// is it known what runs in.
  void note(const Exchange& x, bool float_shut) {
    if (!drawn)
      drawn = DrawnStore{.tank = tank->name,
                         .store_m3 = std::max(0.0, volume_m3 - up_to(x.mouth_m)),
                         .mouth_m = x.mouth_m,
                         .level_m = tank->level.metres()};
    else if (!was_shut)
      return;
    drawn->in_m3s = x.in_m3s;
    drawn->out_m3s = x.out_m3s;
    drawn->drawn_m3s = x.drawn_m3s;
    was_shut = float_shut;
  }

 private:
  bool was_shut = false;
};

/// What ends a stage: a tank becomes empty, or its float valve opens.
struct Next {
  std::size_t tank = 0;
  double after_s = std::numeric_limits<double>::infinity();
  bool opens = false;
};

// Levels are followed together, with a matrix of them all, which is not worth it for more than this.
constexpr std::size_t most_followed = 200;
// Level and flow fall together, more and more slowly towards the end. This many times as long as at the first
// flow is ample.
constexpr double longest = 200.0;
// Newton steps: a third of a second for a small system whose levels chatter, which is rare. One answer may
// follow stores twenty times, and gives the bound where this is not enough.
constexpr WorkLimit patience{.at_once = 5e5, .a_day = 0.0};

/// How high the water of a drawn-down tank stands: at its lowest mouth, or above it by what its flow needs.
double lasting_level_m(const System& system, const steady::State& state, const std::string& tank) {
  const int place = *system.find_place(tank);
  const steady::PlaceState& seen = *state.place(tank);
  if (seen.level_m) return *seen.level_m;
  double level_m = system.box(place)->outlet.metres();
  for (const int l : system.lines_at(place)) {
    const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
    const steady::LineState& run = state.lines[static_cast<std::size_t>(l)];
    if (line.from != place || !(run.flow_m3s > 0.0)) continue;
    const double radius_m = 0.5 * line.pipes.front().pipe.bore.metres();
    const double velocity_ms = run.flow_m3s / (pi * radius_m * radius_m);
    const double asks_m = (1.0 + line.entrance_loss) * velocity_ms * velocity_ms / (2.0 * gravity_ms2);
    level_m = std::max(level_m,
                       line.start_elevation().metres() + std::max(asks_m, run.mouth_needs_m.value_or(0.0)));
  }
  return level_m;
}

/// Tanks joined below their water feed each other as soon as one sinks by a hand's breadth, which the levels
/// at the start do not show.
constexpr double sinks_m = 0.1;

/// Whether, followed all the way, no store empties and none sinks by that much.
bool none_sinks(const System& system, const FillHistory& history, const std::vector<DrawnStore>& stores) {
  if (history.outcome != FillOutcome::done) return false;
  return std::all_of(stores.begin(), stores.end(), [&](const DrawnStore& store) {
    const StorageHistory* seen = history.storage(store.tank);
    return seen && !seen->emptied_at_s && system.tank(store.tank)->level.metres() - seen->lowest_m < sinks_m;
  });
}

/// Whether more is asked of some tap than people draw there.
bool some_opened_wider(const System& system) {
  for (std::size_t o = 0; o < system.outlets().size(); ++o)
    if (system.opened_above_draws(static_cast<int>(o))) return true;
  return false;
}

/// Fills in the time that each store takes, if it can be followed. Returns false if following shows that they
/// are no stores.
bool follow_levels(const System& system, std::vector<DrawnStore>& stores) {
  const auto held = [](const Tank& tank) { return tank.held; };
  if (system.tanks().size() + system.boxes().size() > most_followed ||
      std::any_of(system.tanks().begin(), system.tanks().end(), held))
    return true;
  FillOptions options{.until_empty = true, .every_s = 0.0, .keep_steps = false, .work = patience};
  options.duration_s = longest * std::max(60.0, stores.back().holds_out_s);
  options.emptied_at_m.assign(system.tanks().size(), std::nan(""));
  const auto number = [&](const DrawnStore& store) {
    return static_cast<std::size_t>(system.place(*system.find_place(store.tank)).index);
  };
  for (const DrawnStore& store : stores) options.emptied_at_m[number(store)] = store.emptied_at_m();
  const FillHistory history = fill(network::with_even_draws(system), options);
  if (history.storages.size() < system.tanks().size()) return true;
  if (none_sinks(system, history, stores)) return false;
  const bool in_full = some_opened_wider(system);
  for (DrawnStore& store : stores) {
    const Tank& tank = system.tanks()[number(store)];
    const auto& emptied_s = history.storages[number(store)].emptied_at_s;
    if (!emptied_s && tank.level.metres() > store.emptied_at_m()) continue;
    store.holds_out_s = emptied_s.value_or(0.0);
    store.bound = false;
    const double falls_m3s = store.out_m3s + store.drawn_m3s - store.in_m3s;
    if (in_full) store.holds_out_s = std::min(store.holds_out_s, store.store_m3 / falls_m3s);
  }
  std::stable_sort(stores.begin(), stores.end(),
                   [](const DrawnStore& a, const DrawnStore& b) { return a.holds_out_s < b.holds_out_s; });
  return true;
}

class Follower {
 public:
  Follower(const System& system, bool how_long) : system_(system), how_long_(how_long) {
    for (const Tank& tank : system.tanks()) holding_.emplace_back(tank);
  }

  std::optional<Lasting> run(steady::State state) {
    System now = system_;
    while (state.outcome == steady::Outcome::settled) {
      const std::optional<Next> next = next_end(now, state);
      if (!next) break;
      now = next->opens ? with_float_open(now, next->tank) : with_one_less(now, next->tank);
      state = steady::solve(now);
    }
    if (stores_.empty()) return std::nullopt;
    const bool fed = std::any_of(system_.boxes().begin(), system_.boxes().end(),
                                 [](const network::Box& box) { return box.yield.si() > 0.0; });
    for (DrawnStore& store : stores_) {
      if (const steady::PlaceState* place = state.place(store.tank)) store.gets_m3s = place->inflow_m3s;
      store.lasting_m = store.drawn_m3s > 0.0 ? store.mouth_m : lasting_level_m(now, state, store.tank);
      store.bound = true;
    }
    const bool follow = how_long_ || !plainly_sinks();
    if (follow && state.outcome == steady::Outcome::settled && !follow_levels(system_, stores_))
      return std::nullopt;
    return Lasting{std::move(stores_), fed, std::move(now), std::move(state)};
  }

 private:
  /// Whether there is one tank alone, which sinks far, and no tap that is opened wider than it is drawn: for
  /// such a tap the time matters.
  bool plainly_sinks() const {
    return system_.tanks().size() == 1 && !some_opened_wider(system_) &&
           stores_.front().lasting_m < stores_.front().level_m - sinks_m;
  }

  /// Goes on to the end of the present stage; none if the stage lasts.
  std::optional<Next> next_end(const System& now, const steady::State& state) {
    std::optional<Next> next;
    std::vector<double> falls_m3s(holding_.size(), 0.0);
    for (std::size_t i = 0; i < holding_.size(); ++i) {
      Holding& h = holding_[i];
      const steady::PlaceState* seen = state.place(h.tank->name);
      if (!seen || seen->kind != network::PlaceKind::tank) continue;  // empty already
      if (h.tank->held) continue;
      const Exchange x = exchange_of(now, state, *now.find_place(h.tank->name));
      if (!x.gives()) continue;
      falls_m3s[i] = x.falls_m3s();
      const auto opens_m = opens_at_m(*h.tank);
      const bool opens = seen->float_shut && opens_m && *opens_m > x.mouth_m;
      const double least_m3 = h.up_to(opens ? *opens_m : x.mouth_m);
      h.note(x, seen->float_shut);
      const double after_s = std::max(0.0, h.volume_m3 - least_m3) / falls_m3s[i];
      if (!next || after_s < next->after_s) next = Next{i, after_s, opens};
    }
    if (!next) return next;
    clock_s_ += next->after_s;
    for (std::size_t i = 0; i < holding_.size(); ++i) holding_[i].volume_m3 -= falls_m3s[i] * next->after_s;
    return next;
  }

  /// Opens the float valve of a tank by setting its level just low enough for that, so that the flow out
  /// stays as near as possible to that of the start.
  System with_float_open(const System& now, std::size_t tank) {
    const Tank& t = *holding_[tank].tank;
    Length level = t.lip;
    for (const network::FloatValve& valve : network::floats_of(system_.model(), t))
      level = std::min({level, valve.opens_at, valve.shuts_at - Length::metres(opened_by_m)});
    return network::with_level(now, t.name, std::max(t.floor, level));
  }

  /// The level at which the first of its float valves opens as the water sinks; none if it has none.
  std::optional<double> opens_at_m(const Tank& tank) const {
    std::optional<double> first;
    for (const network::FloatValve& valve : network::floats_of(system_.model(), tank))
      first = std::max(first.value_or(valve.opens_at.metres()), valve.opens_at.metres());
    return first;
  }

  System with_one_less(const System& now, std::size_t tank) {
    DrawnStore store = *holding_[tank].drawn;
    store.holds_out_s = clock_s_;
    stores_.push_back(std::move(store));
    return network::with_empty_tank(now, stores_.back().tank);
  }

  // The solver takes a float valve as open at any level below that at which it shuts.
  static constexpr double opened_by_m = 1e-6;

  const System& system_;
  const bool how_long_;
  std::vector<Holding> holding_;
  std::vector<DrawnStore> stores_;
  double clock_s_ = 0.0;
};

/// The places from which or through which water reaches a place, up to the first tanks: one flag a place.
std::vector<char> upstream(const System& system, int of) {
  std::vector<int> open{of};
  std::vector<char> seen(static_cast<std::size_t>(system.places()), 0);
  while (!open.empty()) {
    const int place = open.back();
    open.pop_back();
    for (const int l : system.lines_at(place)) {
      const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
      if (line.to != place || seen[static_cast<std::size_t>(line.from)]) continue;
      seen[static_cast<std::size_t>(line.from)] = 1;
      if (!system.tank(line.from)) open.push_back(line.from);
    }
  }
  return seen;
}

/// Supply and need over many days, tank by tank. What a full tank gives for a while is no supply to the next.
class LongRun {
 public:
  /// `full`: the system with the troughs that fill shut; `then`: its state; `shut`: those troughs by their
  /// number among the tanks.
  LongRun(const System& system, const System& full, const steady::State& then, const std::vector<int>& shut)
      : system_(system), full_(full), then_(then), at_(static_cast<std::size_t>(system.places())) {
    std::vector<char> is_shut(system.tanks().size(), 0);
    for (const int t : shut) is_shut[static_cast<std::size_t>(t)] = 1;
    for (std::size_t t = 0; t < system.tanks().size(); ++t) look_above(t, is_shut[t] != 0);
    for (const network::Ask& ask : system.asks()) look_above(ask);
  }

  /// Whether more is needed from a tank, or from one on the way to it, than comes there.
  bool falls_short(int place) const { return falls_short(place, 0); }

 private:
  // Ends the walk on a ring of tanks that feed each other, which is left to `fill`.
  static constexpr int most_in_a_row = 50;

  /// What is known about the tank at a place.
  struct Known {
    double own_m3s = 0.0;      ///< drawn from it, needed below it, and drawn from shut troughs behind it
    double springs_m3s = 0.0;  ///< yield of the springs that reach it without passing another tank
    /// The one tank through which all its water comes; none if a spring or a second tank reaches it as well,
    /// or if water comes to it against the drawn direction of a line.
    std::optional<int> only_feeder;
    std::vector<int> feeds;  ///< tanks that are not shut and have it as their only feeder
  };
  Known& at(int place) { return at_[static_cast<std::size_t>(place)]; }
  const Known& at(int place) const { return at_[static_cast<std::size_t>(place)]; }

  void look_above(std::size_t t, bool shut) {
    const Tank& tank = system_.tanks()[t];
    const int place = system_.tank_place(static_cast<int>(t));
    const std::vector<char> above = upstream(system_, place);
    const auto is_above = [&](int other) { return above[static_cast<std::size_t>(other)] != 0; };
    const double drawn_m3s = network::daily_mean(tank.draws).si();
    at(place).own_m3s += drawn_m3s;
    for (std::size_t b = 0; b < system_.boxes().size(); ++b)
      if (is_above(system_.box_place(static_cast<int>(b))))
        at(place).springs_m3s += system_.boxes()[b].yield.si();
    std::vector<std::size_t> feeders;
    for (std::size_t f = 0; f < system_.tanks().size(); ++f) {
      const int feeder = system_.tank_place(static_cast<int>(f));
      if (!is_above(feeder)) continue;
      if (shut) at(feeder).own_m3s += drawn_m3s;
      if (f != t) feeders.push_back(f);
    }
    if (feeders.size() != 1 || system_.tanks()[feeders.front()].held || at(place).springs_m3s > 0.0 ||
        runs_backwards_to(place))
      return;
    const int only = system_.tank_place(static_cast<int>(feeders.front()));
    at(place).only_feeder = only;
    if (!shut) at(only).feeds.push_back(place);
  }

  /// Adds the need at a tap or a joint to every tank that feeds it.
  void look_above(const network::Ask& ask) {
    const auto place = system_.find_place(ask.at);
    if (ask.kind != network::AskKind::flow || !place || system_.tank(*place) || system_.box(*place)) return;
    const network::Outlet* tap = system_.outlet(*place);
    const network::Joint* joint = system_.joint(*place);
    // A need for flow through a joint without draws counts below the joint.
    if (joint && joint->draws.empty()) return;
    const int hangs = tap ? system_.hangs_on(system_.place(*place).index) : -1;
    const std::vector<char> above = upstream(system_, hangs >= 0 ? hangs : *place);
    // In the long run draws by the hour take the mean of the day, not the draw of the busiest hour. A tap of
    // which more is asked is opened wider in its hours.
    const auto& draws = tap ? tap->draws : joint->draws;
    double asked_m3s = draws.empty() ? ask.flow.si() : network::daily_mean(draws).si();
    if (tap && system_.opened_above_draws(system_.place(*place).index))
      asked_m3s = std::max(asked_m3s, ask.flow.si() * network::hours_a_day(draws) / 24.0);
    for (std::size_t t = 0; t < system_.tanks().size(); ++t) {
      const int tank = system_.tank_place(static_cast<int>(t));
      if (above[static_cast<std::size_t>(tank)]) at(tank).own_m3s += asked_m3s;
    }
  }

  bool runs_backwards_to(int place) const {
    const auto& lines = system_.lines_at(place);
    return std::any_of(lines.begin(), lines.end(), [&](int l) {
      return system_.lines()[static_cast<std::size_t>(l)].from == place &&
             then_.lines[static_cast<std::size_t>(l)].flow_m3s < 0.0;
    });
  }

  bool falls_short(int place, int depth) const {
    const double wanted = wanted_m3s(place, depth);
    if (wanted - comes_m3s(place, depth) > std::max(network::no_flow_m3s, nothing_share * wanted))
      return true;
    const std::optional<int> before = at(place).only_feeder;
    return before && depth < most_in_a_row && falls_short(*before, depth + 1);
  }

  /// What comes at most: no more than runs in now, and no more than reaches it from springs and from the
  /// tanks before it.
  double comes_m3s(int place, int depth) const {
    if (depth > 0 && network::place_state(full_, then_, place).float_shut) return at(place).springs_m3s;
    const double now_m3s = exchange_of(full_, then_, place).in_m3s;
    const std::optional<int> before = at(place).only_feeder;
    if (!before || depth >= most_in_a_row) return now_m3s;
    return std::min(now_m3s, comes_m3s(*before, depth + 1));
  }

  double wanted_m3s(int place, int depth) const {
    double sum_m3s = at(place).own_m3s;
    if (depth < most_in_a_row)
      for (const int below : at(place).feeds) sum_m3s += wanted_m3s(below, depth + 1);
    return sum_m3s;
  }

  const System &system_, &full_;
  const steady::State& then_;
  std::vector<Known> at_;  ///< one a place
};

/// Marks the stores that in the long run cannot cover what is drawn from them and needed below them. Troughs
/// with a float valve fill, shut and then take only what is drawn from them; a tap that runs for a while
/// counts with the flow that is needed there, not with what it could take.
void judge_long_run(const System& system, const steady::State& state, std::vector<DrawnStore>& stores) {
  System full = system;
  std::vector<int> shut;
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    const Tank& tank = system.tanks()[t];
    const int place = system.tank_place(static_cast<int>(t));
    const Exchange x = exchange_of(system, state, place);
    const bool drawn_down =
        std::any_of(stores.begin(), stores.end(), [&](const DrawnStore& s) { return s.tank == tank.name; });
    const auto floats = network::floats_of(system.model(), tank);
    if (floats.empty() || drawn_down || x.gives()) continue;
    full = network::with_level(full, tank.name, floats.back().shuts_at);
    shut.push_back(static_cast<int>(t));
  }
  const steady::State then = shut.empty() ? state : steady::solve(full);
  if (then.outcome != steady::Outcome::settled) return;
  const LongRun long_run{system, full, then, shut};
  for (DrawnStore& store : stores)
    store.short_of_draws = store.drawn_m3s > 0.0 && long_run.falls_short(*system.find_place(store.tank));
}

}  // namespace

const DrawnStore* Lasting::store(const std::string& tank) const {
  for (const DrawnStore& s : stores)
    if (s.tank == tank) return &s;
  return nullptr;
}

std::optional<Lasting> follow_stores(const System& system, const steady::State& state, bool how_long) {
  std::optional<Lasting> lasting = Follower(system, how_long).run(state);
  if (lasting) judge_long_run(system, state, lasting->stores);
  return lasting;
}

}  // namespace runnel::filling
