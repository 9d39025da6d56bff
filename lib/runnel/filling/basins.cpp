#include "runnel/filling/basins.h"

#include <algorithm>
#include <cmath>

namespace runnel::filling {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

// A float valve that would shut again within this time is hunting, which looks just like standing half open.
constexpr double hunting_s = 10.0;
// So is one that opens and shuts more often than every quarter of an hour over a day: half open, the tank
// gets the same water, and the level stays within the play of the float valve.
constexpr int most_cycles = 96;
// If a storage changes its state more often than this at one instant, it alternates within rounding.
constexpr int most_turns = 4;
// A film that follows ends only once it is twice as thick, so that its edge is not crossed to and fro.
constexpr double left_at = 2.0;
// The solver settles heads to about a picometre, but only to this where conductances are great.
constexpr double head_rounding_m = 1e-9;

void note_opening(Float& f, double time_s) {
  if (time_s - f.cycles_since_s > day_s) {
    f.cycles_since_s = time_s;
    f.cycles = 0;
  }
  ++f.cycles;
  f.opened_s = time_s;
}

bool hunts(const Float& f, double time_s) {
  return f.opened_s &&
         (time_s - *f.opened_s < hunting_s || (f.cycles > most_cycles && time_s - f.cycles_since_s <= day_s));
}

/// Whether a float valve opens at the level at which it shuts.
bool without_play(const Storage& s, const Float& f) { return f.opens_m3 >= f.shuts_m3 - s.grain_m3(); }

bool within_film(const Storage& s, const Mouth& mouth, double volume_m3) {
  return volume_m3 >= mouth.bare_m3 - s.grain_m3() && volume_m3 <= mouth.film_m3 + s.grain_m3();
}

}  // namespace

std::vector<DrawnPlace> drawn_places_of(const network::System& system, double start_hour) {
  std::vector<DrawnPlace> all;
  const auto take = [&](network::PlaceKind kind, const auto& places) {
    for (std::size_t i = 0; i < places.size(); ++i)
      if (!places[i].draws.empty())
        all.push_back({kind, i, places[i].name, DrawSchedule(places[i].draws, start_hour)});
  };
  take(network::PlaceKind::joint, system.joints());
  take(network::PlaceKind::outlet, system.outlets());
  return all;
}

Basins::Basins(const network::System& system, double start_hour, const std::vector<double>& emptied_at_m)
    : stores_(storages_of(system, start_hour)),
      places_(drawn_places_of(system, start_hour)),
      field_(system),
      draw_(stores_.size(), 0.0),
      level_(stores_.size()) {
  for (std::size_t i = 0; i < std::min(system.tanks().size(), emptied_at_m.size()); ++i)
    if (!std::isnan(emptied_at_m[i])) stores_[i].dry_m3 = stores_[i].volume_m3(emptied_at_m[i]);
  for (const network::Joint& joint : system.joints()) joint_draws_ = joint_draws_ || joint.draw.si() > 0.0;
  const std::vector<FloatGroup> groups = float_groups(system);
  for (std::size_t g = 0; g < groups.size(); ++g)
    if (system.tanks()[groups[g].tank].level >= groups[g].valve.shuts_at) field_.set_valve(g, Valve::shut);
}

bool Basins::floats_shut(std::size_t i) const {
  const auto& floats = stores_[i].floats;
  return !floats.empty() && std::none_of(floats.begin(), floats.end(), [&](const Float& f) {
    return field_.valve(f.group) == Valve::open;
  });
}

VectorXd Basins::start(const network::System& system, bool from_empty, std::vector<double>& spilled) const {
  VectorXd volume = VectorXd::Zero(static_cast<Index>(size()));
  spilled.assign(size(), 0.0);
  if (from_empty) return volume;
  // Boxes start at the level that they would have with the tanks as they are.
  steady::Assembly assembly = steady::assemble(system);
  for (const DrawnPlace& place : places_) {
    const double now_m3s = place.draws.rate_m3s(0.0);
    if (place.kind == network::PlaceKind::joint) {
      assembly.kernel
          .nodes[static_cast<std::size_t>(assembly.nodes_of(network::PlaceKind::joint)[place.index])]
          .draw_m3s = now_m3s;
    } else if (const int k = assembly.outlet_link[place.index]; k >= 0) {
      steady::Link& link = assembly.kernel.links[static_cast<std::size_t>(k)];
      link.most_m3s = now_m3s;
      link.shut = link.shut || !(now_m3s > 0.0);
    }
  }
  const steady::KernelState state = steady::solve(assembly.kernel);
  std::size_t i = 0;
  auto put = [&](double level_m) {
    const double v = std::max(0.0, stores_[i].volume_m3(level_m));
    spilled[i] = std::max(0.0, v - stores_[i].lip_m3);
    volume[static_cast<Index>(i)] = v - spilled[i];
    ++i;
  };
  for (const network::Tank& tank : system.tanks()) put(tank.level.metres());
  for (std::size_t b = 0; b < system.boxes().size(); ++b)
    if (i < size() && stores_[i].name == system.boxes()[b].name)
      put(std::clamp(state.head_m[static_cast<std::size_t>(assembly.nodes_of(network::PlaceKind::box)[b])],
                     stores_[i].floor_m, stores_[i].lip_m));
  return volume;
}

void Basins::take_levels(const VectorXd& volume) {
  for (std::size_t i = 0; i < size(); ++i) level_[i] = stores_[i].level_m(volume[static_cast<Index>(i)]);
}

bool Basins::rates(int stage, const VectorXd& volume, VectorXd& rate) {
  Instant& now = stage < 0 ? probe_ : stage_[stage];
  ++solves_;
  take_levels(volume);
  if (!field_.evaluate(level_, now)) return false;
  for (std::size_t i = 0; i < size(); ++i) rate[static_cast<Index>(i)] = rate_m3s(i, now);
  return true;
}

/// What a film or an empty storage gets and does not give is the rounding of its flows. It is added to the
/// volume, so that no water is lost over the months.
double Basins::rate_m3s(std::size_t i, const Instant& now) const {
  if (stores_[i].rim == Rim::lip || field_.held(i)) return 0.0;
  return now.net_m3s[i] - given_m3s(i, now);
}

bool Basins::slopes(const VectorXd& volume, bool fresh, Eigen::MatrixXd& slopes) {
  take_levels(volume);
  const bool anew = field_.slopes(level_, fresh, slopes);
  for (std::size_t i = 0; i < size(); ++i) {
    const Index c = static_cast<Index>(i);
    // A difference of depths is used, since a lying cylinder has no surface area at its top and bottom, over
    // a small share of the volume, since the depth of a film there rises with the cube root of its square.
    const double v = volume[c], step = std::max(stores_[i].grain_m3(), 1e-5 * std::abs(v));
    slopes.col(c) *= (stores_[i].curve.depth_m(v + step) - stores_[i].curve.depth_m(v - step)) / (2.0 * step);
  }
  for (std::size_t i = 0; i < size(); ++i)
    if (stores_[i].rim != Rim::free || field_.held(i)) slopes.row(static_cast<Index>(i)).setZero();
  return anew;
}

void Basins::set_draws(double time_s) {
  for (std::size_t i = 0; i < size(); ++i) {
    draw_[i] = stores_[i].draws.rate_m3s(time_s);
    field_.set_need(i, draw_[i]);
  }
  for (DrawnPlace& place : places_) {
    const double asked_m3s = place.draws.rate_m3s(time_s);
    places_changed_ = places_changed_ || asked_m3s != place.asked_m3s;
    place.asked_m3s = asked_m3s;
    if (place.kind == network::PlaceKind::joint)
      field_.set_joint_draw(place.index, asked_m3s);
    else
      field_.set_outlet_most(place.index, asked_m3s);
  }
}

double Basins::next_change_s(double time_s) const {
  double next = std::numeric_limits<double>::infinity();
  for (const Storage& s : stores_) next = std::min(next, s.draws.next_change_s(time_s));
  for (const DrawnPlace& place : places_) next = std::min(next, place.draws.next_change_s(time_s));
  return next;
}

bool Basins::any_draws() const {
  const auto any = [](const auto& drawn) { return drawn.draws.any(); };
  return std::any_of(stores_.begin(), stores_.end(), any) || std::any_of(places_.begin(), places_.end(), any);
}

bool Basins::steady_draws() const {
  const auto steady = [](const auto& drawn) { return drawn.draws.steady(); };
  return std::all_of(stores_.begin(), stores_.end(), steady) &&
         std::all_of(places_.begin(), places_.end(), steady);
}

double Basins::given_m3s(std::size_t i, const Instant& now) const {
  return stores_[i].rim == Rim::floor || stores_[i].rim == Rim::film
             ? std::clamp(now.net_m3s[i], 0.0, draw_[i])
             : draw_[i];
}

double Basins::spill_m3s(std::size_t i, const Instant& now) const {
  return stores_[i].rim == Rim::lip ? now.net_m3s[i] - draw_[i] : 0.0;
}

/// Whether the draw of an empty storage, with a line that leaves at its floor, is met by what comes in.
bool Basins::draw_met(std::size_t i, const Instant& now) const {
  return field_.follows(i) && now.hold[static_cast<std::size_t>(field_.node(i))] == steady::Hold::free;
}

int Basins::rim_sign(std::size_t i, const Instant& now) const {
  const double surplus = now.net_m3s[i] - draw_[i];
  if (stores_[i].rim == Rim::lip) return surplus < -tiny() ? -1 : 0;
  if (stores_[i].rim == Rim::film || (stores_[i].rim == Rim::floor && field_.follows(i))) {
    // Over a mouth in the floor, a draw that gets too little and one that is just met differ by less than
    // heads are settled to: both are the same state under two names.
    const int beside = still(i, now) ? 0 : beside_film(i, now);
    return beside < 0 && film_at_floor(i) ? 0 : beside;
  }
  if (stores_[i].rim == Rim::floor) return surplus > tiny() ? 1 : 0;
  return 0;
}

bool Basins::film_at_floor(std::size_t i) const {
  return field_.follows(i) && field_.mouth_m(i) <= stores_[i].floor_m;
}

/// -1: a film that follows has gone, since its draw gets too little or the water would sink to a lower mouth.
/// +1: it has become water of some depth. 0 also if the head is below the lowest mouth, where nothing runs.
int Basins::beside_film(std::size_t i, const Instant& now) const {
  const auto node = static_cast<std::size_t>(field_.node(i));
  const double above_m = now.head_m[node] - field_.mouth_m(i);
  const bool lowest = field_.mouth_m(i) <= stores_[i].lowest_mouth_m();
  if (now.hold[node] != steady::Hold::free || (above_m < -head_rounding_m && !lowest)) return -1;
  return above_m > left_at * film_m ? 1 : 0;
}

bool Basins::in_film(const VectorXd& volume) const {
  for (std::size_t i = 0; i < size(); ++i)
    for (const Mouth& mouth : stores_[i].mouths)
      if (within_film(stores_[i], mouth, volume[static_cast<Index>(i)])) return stores_[i].rim == Rim::free;
  return false;
}

/// Whether nothing runs to a film that follows nor from it, so that nothing determines its head.
bool Basins::still(std::size_t i, const Instant& now) const {
  return draw_[i] == 0.0 && field_.through_m3s(i, now) <= tiny();
}

/// Whether nothing would run if the film over the mouth were gone, as no other mouth takes water and none
/// comes. To drain the last of a film over days of ever smaller steps would be of no use to anyone.
bool Basins::rests_when_bare(std::size_t i, double bare_m3, const VectorXd& volume, bool& ok) {
  VectorXd bare = volume, rate(volume.size());
  bare[static_cast<Index>(i)] = bare_m3;
  const double mouth_m = field_.mouth_m(i);
  const bool followed = field_.follows(i);
  field_.set_follows(i, false);
  ok = rates(-1, bare, rate);
  const bool rests = ok && draw_[i] == 0.0 && field_.through_m3s(i, probe_) <= tiny();
  field_.set_follows(i, followed, mouth_m);
  return rests;
}

/// Lets a storage follow if, following at once, it would stand in the film over the mouth.
bool Basins::follow(std::size_t i, const Mouth& mouth, const VectorXd& volume, bool& ok) {
  field_.set_follows(i, true, mouth.level_m);
  VectorXd rate(volume.size());
  const auto node = static_cast<std::size_t>(field_.node(i));
  if (rates(-1, volume, rate) && beside_film(i, probe_) == 0 &&
      probe_.head_m[node] <= mouth.level_m + film_m) {
    stores_[i].rim = Rim::film;
    return true;
  }
  if (still(i, probe_) && rests_when_bare(i, mouth.bare_m3, volume, ok)) {
    stores_[i].rim = Rim::film;
    return ok = rates(-1, volume, rate);
  }
  field_.set_follows(i, false);
  ok = ok && rates(-1, volume, rate);
  return false;
}

bool Basins::settle_film(std::size_t i, double time_s, const VectorXd& volume, std::vector<Event>& events,
                         bool& ok) {
  Storage& s = stores_[i];
  if (s.rim == Rim::film) {
    if (beside_film(i, probe_) == 0) return false;
    if (still(i, probe_) && !film_at_floor(i)) {
      const bool rests = rests_when_bare(i, s.volume_m3(field_.mouth_m(i)), volume, ok);
      VectorXd rate(volume.size());
      ok = ok && rates(-1, volume, rate);
      if (rests || !ok) return false;
    }
    if (film_at_floor(i) && !draw_met(i, probe_)) {
      s.rim = Rim::floor;
      events.push_back({time_s, EventKind::empty, s.name});
      return true;
    }
    s.rim = Rim::free;
    field_.set_follows(i, false);
    return true;
  }
  if (s.rim != Rim::free || field_.held(i)) return false;
  for (const Mouth& mouth : s.mouths)
    if (within_film(s, mouth, volume[static_cast<Index>(i)]) && follow(i, mouth, volume, ok)) return true;
  return false;
}

bool Basins::same_rims(const Instant& a, const Instant& b) const {
  if (a.holding != b.holding) return false;
  for (std::size_t i = 0; i < size(); ++i)
    if (rim_sign(i, a) != rim_sign(i, b)) return false;
  return true;
}

void Basins::probed_rates(VectorXd& rate) const {
  for (std::size_t i = 0; i < size(); ++i) rate[static_cast<Index>(i)] = rate_m3s(i, probe_);
}

bool Basins::flows_follow_draws() const {
  for (std::size_t i = 0; i < size(); ++i)
    if (field_.follows(i) || field_.held(i)) return true;
  return std::any_of(places_.begin(), places_.end(),
                     [](const DrawnPlace& place) { return !place.draws.steady(); });
}

bool Basins::settle(double time_s, const VectorXd& volume, bool at_stage, std::vector<Event>& events) {
  VectorXd rate(volume.size());
  changed_ = places_changed_;
  places_changed_ = false;
  for (Storage& s : stores_) s.turns = 0;
  // Each pass changes at least one state, and a storage comes back to a state at the same instant only
  // because of another one, so this many passes are plenty.
  for (std::size_t pass = 0; pass < 10 + 4 * size(); ++pass) {
    if (pass == 0 && at_stage)
      probe_ = stage_[2];
    else if (!rates(-1, volume, rate))
      return false;
    bool changed = false, ok = true;
    for (std::size_t i = 0; i < size() && !changed; ++i)
      changed = stores_[i].turns < most_turns &&
                (settle_floats(i, time_s, volume, events, ok) ||
                 (ok && (settle_film(i, time_s, volume, events, ok) ||
                         (ok && settle_rim(i, time_s, volume, events))))) &&
                ++stores_[i].turns;
    if (!ok) return false;
    if (!changed) return true;
    changed_ = true;
  }
  return true;
}

bool Basins::probe_with(std::size_t i, const Float& f, Valve valve, const VectorXd& volume, double& surplus) {
  const Valve before = field_.valve(f.group);
  field_.set_valve(f.group, valve);
  VectorXd rate(volume.size());
  const bool ok = rates(-1, volume, rate);
  surplus = probe_.net_m3s[i] - draw_[i];
  field_.set_valve(f.group, before);
  return ok;
}

bool Basins::settle_floats(std::size_t i, double time_s, const VectorXd& volume, std::vector<Event>& events,
                           bool& ok) {
  for (Float& f : stores_[i].floats)
    if (settle_float(i, f, time_s, volume, events, ok) || !ok) return true;
  return false;
}

void Basins::turn_float(const Storage& s, const Float& f, Valve to, double time_s,
                        std::vector<Event>& events) {
  field_.set_valve(f.group, to);
  const EventKind what = to == Valve::open   ? EventKind::float_opens
                         : to == Valve::shut ? EventKind::float_shuts
                                             : EventKind::float_holds;
  events.push_back({time_s, what, s.name, f.line});
}

bool Basins::settle_float(std::size_t i, Float& f, double time_s, const VectorXd& volume,
                          std::vector<Event>& events, bool& ok) {
  const Storage& s = stores_[i];
  const double v = volume[static_cast<Index>(i)], surplus = probe_.net_m3s[i] - draw_[i];
  switch (field_.valve(f.group)) {
    case Valve::open:
      return v >= f.shuts_m3 - s.grain_m3() && surplus > tiny() &&
             shut_float(i, f, time_s, volume, events, ok);
    case Valve::shut:
      return v <= f.opens_m3 + s.grain_m3() && surplus < -tiny() &&
             open_float(i, f, time_s, volume, events, ok);
    case Valve::held:
      if (probe_.holding[i] == Holding::too_little) {
        note_opening(f, time_s);
        turn_float(s, f, Valve::open, time_s, events);
        return true;
      }
      if (probe_.holding[i] == Holding::too_much || field_.passes_m3s(f.group, probe_) <= tiny()) {
        turn_float(s, f, Valve::shut, time_s, events);
        return true;
      }
      return false;
  }
  return false;
}

bool Basins::shut_float(std::size_t i, const Float& f, double time_s, const VectorXd& volume,
                        std::vector<Event>& events, bool& ok) {
  const Storage& s = stores_[i];
  Valve next = Valve::shut;
  if (!field_.held(i) && (without_play(s, f) || hunts(f, time_s))) {
    double surplus = 0.0;
    ok = probe_with(i, f, Valve::shut, volume, surplus);
    if (surplus < -tiny()) next = Valve::held;
  }
  turn_float(s, f, next, time_s, events);
  return true;
}

bool Basins::open_float(std::size_t i, Float& f, double time_s, const VectorXd& volume,
                        std::vector<Event>& events, bool& ok) {
  const Storage& s = stores_[i];
  double surplus = 0.0;
  ok = probe_with(i, f, Valve::open, volume, surplus);
  const bool at_once = without_play(s, f) && volume[static_cast<Index>(i)] >= f.shuts_m3 - s.grain_m3();
  note_opening(f, time_s);
  turn_float(s, f, at_once && surplus > tiny() && !field_.held(i) ? Valve::held : Valve::open, time_s,
             events);
  return true;
}

bool Basins::settle_rim(std::size_t i, double time_s, const VectorXd& volume, std::vector<Event>& events) {
  Storage& s = stores_[i];
  const double v = volume[static_cast<Index>(i)], surplus = probe_.net_m3s[i] - draw_[i];
  const bool held = field_.held(i);
  auto become = [&](Rim rim, EventKind what) {
    s.rim = rim;
    events.push_back({time_s, what, s.name});
    return true;
  };
  switch (s.rim) {
    case Rim::free:
      if (!held && v >= s.lip_m3 - s.grain_m3() && surplus > tiny())
        return become(Rim::lip, EventKind::spill_begins);
      if (!held && v <= s.grain_m3() && surplus < -tiny()) {
        // Over a mouth in the floor, rounding must not let anything run out.
        if (s.lowest_mouth_m() <= s.floor_m) field_.set_follows(i, true, s.floor_m);
        return become(Rim::floor, EventKind::empty);
      }
      return false;
    case Rim::lip:
      return surplus < -tiny() && become(Rim::free, EventKind::spill_ends);
    case Rim::floor:
      // Once nothing is drawn nothing is missing, even if nothing runs in.
      if (surplus <= tiny() && draw_[i] > 0.0 && !draw_met(i, probe_)) return false;
      if (film_at_floor(i) && beside_film(i, probe_) == 0)
        return become(Rim::film, EventKind::draws_met_again);
      field_.set_follows(i, false);
      return become(Rim::free, EventKind::draws_met_again);
    case Rim::film:
      return false;
  }
  return false;
}

}  // namespace runnel::filling
