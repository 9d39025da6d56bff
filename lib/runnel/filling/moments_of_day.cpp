#include "runnel/filling/moments_of_day.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "runnel/filling/draws.h"
#include "runnel/filling/series.h"
#include "runnel/network/drawn_needs.h"
#include "runnel/network/hours.h"

namespace runnel::filling {
namespace {

using network::System;

constexpr double same_s = 1e-3, same_h = 1e-3;

/// A stretch of the day in which the same taps and joints are drawn [hours]; the last one may go on past
/// midnight.
struct Stretch {
  double from = 0.0, to = 24.0;
  double midst() const { return std::fmod(0.5 * (from + to), 24.0); }
  /// Its ends belong to it: what is drawn at its end has drawn the tanks down.
  bool holds(double time_s) const {
    const double hour = std::fmod(time_s, day_s) / 3600.0;
    const auto in = [&](double h) { return h >= from - same_h && h <= to + same_h; };
    return in(hour) || in(hour + 24.0);
  }
};

std::vector<Stretch> stretches_of(const System& system) {
  const std::vector<double> hours = network::hours_of_change(system.model());
  std::vector<Stretch> all;
  for (std::size_t i = 0; i < hours.size(); ++i)
    all.push_back({hours[i], i + 1 < hours.size() ? hours[i + 1] : hours.front() + 24.0});
  if (all.empty()) all.push_back({});
  return all;
}

class Moments {
 public:
  Moments(const System& system, const FillHistory& history, double within_s)
      : system_(system), history_(history) {
    for (const StorageHistory& tank : history.storages)
      if (system.tank(tank.name) && !tank.series.empty()) {
        tanks_.push_back(&tank);
        from_s_ = std::max(0.0, tank.series.back().time_s - within_s);
      }
  }

  std::vector<MomentOfDay> run() {
    for (const Stretch& stretch : stretches_of(system_)) {
      floats_in(stretch);
      for (const StorageHistory* tank : tanks_) {
        farthest_in(stretch, *tank, std::less{});
        // One that is filled from below gets least when it stands highest.
        if (network::asked_at(system_.model(), tank->name)) farthest_in(stretch, *tank, std::greater{});
      }
    }
    return std::move(all_);
  }

 private:
  static double level_m(const StorageHistory& tank, double time_s) {
    return value_at(tank.series, time_s, [](const Row& row) { return row.level_m; });
  }

  /// The state of every float valve that moves in the run, just before an instant or just after it.
  std::vector<FloatThen> floats_at(double time_s, bool before) const {
    std::map<std::pair<std::string, std::string>, FloatThen> valves;
    for (const Event& event : history_.events) {
      const bool opens = event.what == EventKind::float_opens || event.what == EventKind::float_holds;
      if (!opens && event.what != EventKind::float_shuts) continue;
      FloatThen& valve = valves[{event.place, event.pipeline}];
      if (valve.tank.empty()) valve = {event.place, event.pipeline, !opens};  // as it stood before
      if (event.time_s < time_s - same_s || (!before && event.time_s <= time_s + same_s)) valve.open = opens;
    }
    std::vector<FloatThen> all;
    for (const auto& [key, valve] : valves) all.push_back(valve);
    return all;
  }

  void add(const Stretch& stretch, const StorageHistory& tank, double time_s, bool before) {
    if (!seen_.insert({stretch.from, std::round(time_s), before}).second) return;
    MomentOfDay moment{.hour = stretch.midst(),
                       .tank = tank.name,
                       .level_m = level_m(tank, time_s),
                       .levels = {},
                       .floats = floats_at(time_s, before)};
    for (const StorageHistory* other : tanks_)
      moment.levels.push_back({other->name, level_m(*other, time_s)});
    all_.push_back(std::move(moment));
  }

  /// The moment in a stretch at which a tank stands lowest, or highest: `beyond` compares two levels.
  template <class Beyond>
  void farthest_in(const Stretch& stretch, const StorageHistory& tank, const Beyond& beyond) {
    const Row* farthest = nullptr;
    for (const Row& row : tank.series)
      if (row.time_s >= from_s_ && stretch.holds(row.time_s) &&
          (!farthest || beyond(row.level_m, farthest->level_m)))
        farthest = &row;
    if (farthest) add(stretch, tank, farthest->time_s, true);
  }

  /// Just after a float valve opened, and just before it shut.
  void floats_in(const Stretch& stretch) {
    std::set<std::tuple<std::string, std::string, bool>> known;  // the last time of each counts
    for (auto event = history_.events.rbegin(); event != history_.events.rend(); ++event) {
      const bool opens = event->what == EventKind::float_opens, shuts = event->what == EventKind::float_shuts;
      if ((!opens && !shuts) || event->time_s < from_s_ || !stretch.holds(event->time_s)) continue;
      const auto tank = std::find_if(tanks_.begin(), tanks_.end(),
                                     [&](const StorageHistory* one) { return one->name == event->place; });
      if (tank == tanks_.end() || !known.insert({event->place, event->pipeline, opens}).second) continue;
      add(stretch, **tank, event->time_s, shuts);
    }
  }

  const System& system_;
  const FillHistory& history_;
  double from_s_ = 0.0;
  std::vector<const StorageHistory*> tanks_;
  std::set<std::tuple<double, double, bool>> seen_;
  std::vector<MomentOfDay> all_;
};

}  // namespace

std::vector<MomentOfDay> moments_of_day(const System& system, const FillHistory& history, double within_s) {
  return Moments(system, history, within_s).run();
}

}  // namespace runnel::filling
