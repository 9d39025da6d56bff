#include "runnel/filling/year_ways.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <set>

#include "runnel/network/change.h"
#include "runnel/network/check_valves.h"
#include "runnel/network/floats.h"
#include "runnel/steady/state.h"

namespace runnel::filling {
namespace {

using network::System;

/// Places by their numbers.
using Places = std::set<int>;

bool lets_nothing_back(const network::Line& line) {
  return line.float_valve || network::has_check_valve(line);
}

/// How high water stands at most in a box or a tank.
Length top_of(const System& system, int place) {
  if (const network::Box* box = system.box(place)) return box->lip;
  return network::full_level(system.model(), *system.tank(place));
}

/// The lowest at which a place takes water in.
Length foot_of(const System& system, int place) {
  if (const network::Box* box = system.box(place)) return box->outlet;
  if (const network::Tank* tank = system.tank(place)) return tank->floor;
  if (const network::Outlet* outlet = system.outlet(place)) return outlet->elevation;
  return system.joint(place)->elevation;
}

/// The places that the water of a box or a tank reaches, and that itself: it rises nowhere above where it
/// stands. `but`: a place that it does not pass.
Places reached_from(const System& system, int source, int but = -1) {
  const Length top = top_of(system, source);
  Places reached{source};
  std::vector<int> open{source};
  while (!open.empty()) {
    const int place = open.back();
    open.pop_back();
    if (place == but) continue;
    for (const int l : system.lines_at(place)) {
      const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
      const bool back = line.from != place;
      const int next = back ? line.from : line.to;
      if (back && lets_nothing_back(line)) continue;
      // Out of the line that fills it a tank gives only what stands above its inlet.
      const network::Tank* tank = back ? system.tank(place) : nullptr;
      if (tank && std::max(line.end_elevation(), tank->inlet) >= top_of(system, place)) continue;
      if (foot_of(system, next) < top && reached.insert(next).second) open.push_back(next);
    }
  }
  return reached;
}

double sum(const std::vector<double>& flows) { return std::accumulate(flows.begin(), flows.end(), 0.0); }

class Cuts {
 public:
  Cuts(const System& system, const PeriodRuns& runs, const std::vector<std::vector<double>>& yields_m3s,
       const YearPart& part)
      : system_(system), runs_(runs), yields_m3s_(yields_m3s), part_(part) {
    for (const std::string& box : part.boxes) sources_.insert(*system.find_place(box));
    for (const std::string& tank : part.tanks) sources_.insert(*system.find_place(tank));
    for (const int source : sources_)
      for (const int place : reached_from(system, source)) feeders_[place].insert(source);
  }

  std::optional<Cut> worst() {
    for (const Places& closed : closed_sets()) look_at_closed(closed);
    for (const PlaceYear& drawn : part_.drawn)
      if (system_.tank(drawn.place)) look_behind(drawn.place);
    return std::move(worst_);
  }

 private:
  // More sets than this are looked at one by one, not in every union of them.
  static constexpr std::size_t most_joined = 6;
  // The solver closes balances of water to 1e-10 of all flow.
  static constexpr double rounding = 1e-9;

  Places feeders_of(int place) const {
    const auto at = feeders_.find(place);
    return at == feeders_.end() ? Places{} : at->second;
  }

  /// The feeders of each place that is drawn, and their unions, but for all of them together.
  std::set<Places> closed_sets() const {
    std::set<Places> single;
    for (const PlaceYear& drawn : part_.drawn)
      if (sum(drawn.demand_m3s) > 0.0) single.insert(feeders_of(drawn.place));
    std::set<Places> all = single;
    for (std::size_t times = 1; single.size() <= most_joined && times < single.size(); ++times) {
      const std::set<Places> before = all;
      for (const Places& one : before)
        for (Places joined : single) {
          joined.insert(one.begin(), one.end());
          all.insert(std::move(joined));
        }
    }
    all.erase(sources_);
    return all;
  }

  /// What is drawn at places that `counts`, with the stores among `sources`, and no yield yet.
  template <class Counts>
  Cut cut_of(const Places& sources, Counts counts) const {
    Cut cut;
    const std::size_t periods = part_.season.length_s.size();
    cut.season = {part_.season.length_s, std::vector<double>(periods), std::vector<double>(periods)};
    double most_m3s = -1.0;
    for (const PlaceYear& drawn : part_.drawn) {
      if (sources.count(drawn.place) > 0) cut.capacity_m3 += drawn.capacity_m3;
      if (!counts(drawn.place)) continue;
      for (std::size_t p = 0; p < periods; ++p) cut.season.demand_m3s[p] += drawn.demand_m3s[p];
      if (sum(drawn.demand_m3s) <= most_m3s) continue;
      most_m3s = sum(drawn.demand_m3s);
      cut.drawn_at = system_.place_name(drawn.place);
    }
    for (const int source : sources)
      (system_.tank(source) ? cut.tanks : cut.boxes).push_back(system_.place_name(source));
    return cut;
  }

  void look_at_closed(const Places& closed) {
    const auto only_these = [&](int place) {
      const Places feeders = feeders_of(place);
      return std::includes(closed.begin(), closed.end(), feeders.begin(), feeders.end());
    };
    Places tanks, boxes;
    for (const int source : closed) (system_.tank(source) ? tanks : boxes).insert(source);
    // A spring that brings nothing to these tanks is there for draws on its way alone.
    std::vector<double> aside_m3s(part_.season.length_s.size());
    for (const int box : boxes) {
      const Places reached = reached_from(system_, box);
      if (std::any_of(tanks.begin(), tanks.end(), [&](int tank) { return reached.count(tank) > 0; }))
        continue;
      const auto& yield_m3s = yields_m3s_[static_cast<std::size_t>(box - system_.box_place(0))];
      for (std::size_t p = 0; p < aside_m3s.size(); ++p) aside_m3s[p] += yield_m3s[p];
    }
    weigh(cut_of(closed, only_these), tanks, aside_m3s);
  }

  /// What can only come through one tank, held against what reaches that from springs and from full tanks.
  void look_behind(int tank) {
    const Places feeders = feeders_of(tank);
    if (std::none_of(feeders.begin(), feeders.end(),
                     [&](int source) { return source != tank && system_.tank(source); }))
      return;
    const Places around = reached_around(tank);
    Places stores{tank};
    for (const int source : sources_)
      if (around.count(source) == 0) stores.insert(source);
    const std::vector<Flow> no_springs(system_.boxes().size());
    const double brought_m3s = least_inflow_m3s(
        network::with_tanks_receiving(network::with_taps_shut(system_), no_springs, tanks_but({tank})),
        {tank});
    weigh(cut_of(stores, [&](int place) { return around.count(place) == 0; }), {tank},
          std::vector<double>(part_.season.length_s.size(), brought_m3s));
  }

  /// Places to which water comes without passing a tank. Tanks that it alone feeds give what came through it.
  Places reached_around(int tank) const {
    Places around;
    const auto take = [&](int source) {
      const Places reached = reached_from(system_, source, tank);
      around.insert(reached.begin(), reached.end());
    };
    for (const int source : sources_)
      if (source != tank && (!system_.tank(source) || feeders_of(source).count(tank) == 0)) take(source);
    for (const int source : sources_)
      if (source != tank && around.count(source) > 0) take(source);
    around.erase(tank);
    return around;
  }

  std::vector<std::string> tanks_but(const Places& some) const {
    std::vector<std::string> others;
    for (std::size_t t = 0; t < system_.tanks().size(); ++t)
      if (some.count(system_.tank_place(static_cast<int>(t))) == 0) others.push_back(system_.tanks()[t].name);
    return others;
  }

  /// What reaches some tanks together, in the state in which they get least; nothing if none settled.
  double least_inflow_m3s(const System& system, const Places& tanks) const {
    double least_m3s = std::numeric_limits<double>::infinity();
    for (const steady::State& state : runs_(system)) {
      double here_m3s = 0.0;
      for (const int tank : tanks)
        here_m3s += std::max(0.0, state.place(system_.place_name(tank))->inflow_m3s);
      least_m3s = std::min(least_m3s, here_m3s);
    }
    return std::isinf(least_m3s) ? 0.0 : least_m3s;
  }

  /// Judges a cut that gets what reaches `tanks`, and `more_m3s`. Where that is too little with all tanks
  /// taking water in, the others may be full and leave it to these.
  void weigh(Cut cut, const Places& tanks, const std::vector<double>& more_m3s) {
    std::vector<double>& yield_m3s = cut.season.yield_m3s;
    for (std::size_t p = 0; p < yield_m3s.size(); ++p) {
      yield_m3s[p] = more_m3s[p] + rounding * part_.springs_m3s[p];
      for (const PlaceYear& drawn : part_.drawn)
        if (tanks.count(drawn.place) > 0) yield_m3s[p] += drawn.inflow_m3s[p];
    }
    if (lasts(cut)) return;
    for (std::size_t p = 0; p < yield_m3s.size() && !tanks.empty(); ++p) {
      std::vector<Flow> yields;
      for (const auto& yield : yields_m3s_) yields.push_back(Flow::from_si(yield[p]));
      const double alone_m3s =
          least_inflow_m3s(network::with_tanks_receiving(system_, yields, tanks_but(tanks)), tanks);
      yield_m3s[p] = std::max(yield_m3s[p], alone_m3s + rounding * part_.springs_m3s[p]);
    }
    if (lasts(cut)) return;
    cut.need = storage_need(cut.season);
    if (!worst_ || cut.coverage.missing_total_m3() > worst_->coverage.missing_total_m3())
      worst_ = std::move(cut);
  }

  static bool lasts(Cut& cut) {
    cut.coverage = coverage(cut.season, cut.capacity_m3);
    return cut.coverage.dry_days() == 0.0;
  }

  const System& system_;
  const PeriodRuns& runs_;
  const std::vector<std::vector<double>>& yields_m3s_;
  const YearPart& part_;
  Places sources_;
  std::map<int, Places> feeders_;
  std::optional<Cut> worst_;
};

}  // namespace

void cut_year(const System& system, const PeriodRuns& runs,
              const std::vector<std::vector<double>>& yields_m3s, YearPart& part) {
  part.short_of.reset();
  if (part.lasts() && part.drawn.size() > 1) part.short_of = Cuts(system, runs, yields_m3s, part).worst();
}

}  // namespace runnel::filling
