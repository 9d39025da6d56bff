#include "runnel/verdict/empty_lines.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "runnel/air/crests.h"
#include "runnel/network/change.h"
#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/network/no_flow.h"
#include "runnel/steady/newton.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/arrival.h"

namespace runnel::verdict {
namespace {

using network::System;

constexpr double day_s = 86400.0;

/// The system with one tank still to be filled, and all others full, so that every way to it can give.
System waiting(const System& system, const std::string& place, bool emptied = true) {
  System out = system;
  for (const network::Tank& tank : system.tanks()) {
    const bool itself = tank.name == place;
    if (itself && !emptied) continue;
    const Length full = network::full_level(system.model(), tank);
    out = network::with_level(out, tank.name, itself ? tank.floor : full);
  }
  return out;
}

/// Pipelines and the volume of their bores [m3].
class Bores {
 public:
  void add(const air::Way& way) {
    for (const air::PathLeg& leg : way.path.legs) names_[leg.line->name] = volume_m3(*leg.line);
  }
  double sum_m3() const {
    double sum = 0.0;
    for (const auto& [name, m3] : names_) sum += m3;
    return sum;
  }

 private:
  static double volume_m3(const network::Line& line) {
    return air::bore_volume_to_points_m3(air::profile_of(line)).back();
  }
  std::map<std::string, double> names_;
};

class Waiting {
 public:
  Waiting(const System& system, const filling::FillHistory& history) : system_(system), history_(history) {}

  EmptyLines run(const std::string& tank) {
    const double first_s = first_water_s(tank, 0);
    if (why_not_.empty() && !std::isfinite(first_s)) why_not_ = unknown;
    double later_s = first_s;
    givers_.insert(tank);  // what it gives meanwhile fills empty lines too
    for (const std::string& giver : givers_) add_ways_from(giver);
    const double bore_m3 = below_tanks_.sum_m3();
    if (why_not_.empty() && bore_m3 > 0.0) {
      const double gained_m3s = gained_before_full_m3s(tank);
      if (!(gained_m3s > 0.0)) why_not_ = unknown;
      later_s += bore_m3 / gained_m3s;
    }
    if (!why_not_.empty()) return {std::nullopt, why_not_};
    return {later_s, {}};
  }

 private:
  static constexpr const char* unknown = "it is not known when water comes to it through empty lines";
  static constexpr const char* in_air =
      "air of the start slows the water in its lines, and the filling is followed without it";
  static constexpr int most_in_a_row = 50;

  /// When all lines from springs to a place, and to every tank that feeds it, are full.
  double first_water_s(const std::string& place, int depth) {
    if (depth > most_in_a_row) return std::numeric_limits<double>::infinity();
    const auto [known, fresh] = known_s_.try_emplace(place, 0.0);  // of a ring: nothing of its own
    if (!fresh) return known->second;
    const System here = waiting(system_, place);
    const steady::State state = steady::solve(here);
    const auto ways = air::ways_of(here, air::AirOptions{}.most_ways);
    if (const AirAnswer air = held_by_air(here); slows(here, state, air, place)) why_not_ = in_air;
    double latest_s = 0.0;
    bool some = false;
    for (const air::Way& way : ways) {
      if (way.path.end != place) continue;
      if (way.start.verdict == air::StartVerdict::blocked) {
        if (runs(state, way))
          why_not_ = "a way to it does not start from empty, and is followed as if it did";
        continue;
      }
      some = true;
      latest_s = std::max(latest_s, after_s(here, state, ways, way, depth));
    }
    if (!some && !is_spring(place)) latest_s = std::numeric_limits<double>::infinity();
    return known_s_[place] = latest_s;
  }

  bool is_spring(const std::string& place) const {
    const network::Box* box = system_.box(place);
    return box && box->yield.si() > 0.0;
  }

  /// The time until the lines of one way are full, and all others that its source feeds.
  double after_s(const System& here, const steady::State& state, const std::vector<air::Way>& ways,
                 const air::Way& way, int depth) {
    if (here.tank(way.path.source)) {
      givers_.insert(way.path.source);
      return first_water_s(way.path.source, depth + 1);
    }
    const double before_s = first_water_s(way.path.source, depth + 1);
    const network::Box* box = here.box(way.path.source);
    const steady::PlaceState* seen = state.place(way.path.source);
    const double rate_m3s = box->yield.si() > 0.0 ? box->yield.si() : seen ? seen->inflow_m3s : 0.0;
    const auto found = arrival(here, way, rate_m3s);
    if (!found) return std::numeric_limits<double>::infinity();
    Bores own, all;
    own.add(way);
    for (const air::Way& other : ways)
      if (other.path.source == way.path.source && other.start.verdict != air::StartVerdict::blocked)
        all.add(other);
    return before_s + found->at_end().full_bore_s * all.sum_m3() / own.sum_m3();
  }

  /// Adds the lines that a tank fills before the places behind them get their share.
  void add_ways_from(const std::string& giver) {
    const System full = waiting(system_, {});
    for (const air::Way& way : air::ways_of(full, air::AirOptions{}.most_ways))
      if (way.path.source == giver && way.start.verdict != air::StartVerdict::blocked) below_tanks_.add(way);
  }

  static bool slows(const System& here, const steady::State& state, const AirAnswer& air,
                    const std::string& place) {
    if (!air.findings.empty()) return true;  // what the air takes was not found
    if (!here.tank(place)) return false;
    const auto flow = air_flow_at(here, state, air, place);
    return flow && std::min(flow->least_m3s, flow->at_first_m3s) < flow->without_m3s * (1.0 - 1e-6);
  }

  static bool runs(const steady::State& state, const air::Way& way) {
    const steady::LineState* line = state.line(way.path.legs.back().line->name);
    return line && std::abs(line->flow_m3s) > network::no_flow_m3s;
  }

  /// What a tank gains just before it is full; with draws by the hour no more than over the day before.
  double gained_before_full_m3s(const std::string& tank) const {
    const auto& all = history_.storages;
    const auto storage = static_cast<std::size_t>(
        std::find_if(all.begin(), all.end(), [&](const auto& s) { return s.name == tank; }) - all.begin());
    const double full_s = all[storage].full_after_s.value_or(0.0);
    double last_m3s = 0.0, day_m3 = 0.0, took_s = 0.0;
    for (const filling::StepRecord& step : history_.record) {
      if (step.start_s >= full_s || step.start_s < full_s - day_s) continue;
      last_m3s = gained_m3s(step.stage[2], storage, tank);
      day_m3 += last_m3s * step.length_s;
      took_s += step.length_s;
    }
    return network::has_draws(system_.model()) && took_s > 0.0 ? std::min(last_m3s, day_m3 / took_s)
                                                               : last_m3s;
  }

  double gained_m3s(const filling::StepRecord::Stage& stage, std::size_t storage,
                    const std::string& tank) const {
    double gained = -stage.drawn_m3s[storage] - stage.spill_m3s[storage];
    for (std::size_t l = 0; l < system_.lines().size(); ++l) {
      if (system_.place_name(system_.lines()[l].to) == tank) gained += stage.line_m3s[l];
      if (system_.place_name(system_.lines()[l].from) == tank) gained -= stage.line_m3s[l];
    }
    return gained;
  }

  const System& system_;
  const filling::FillHistory& history_;
  std::map<std::string, double> known_s_;  ///< places looked at
  std::set<std::string> givers_;           ///< tanks that water comes from
  Bores below_tanks_;
  std::string why_not_;
};

}  // namespace

bool no_way_starts(const System& system, const std::string& tank, bool emptied) {
  const System here = waiting(system, tank, emptied);
  const auto ways = air::ways_of(here, air::AirOptions{}.most_ways);
  return std::none_of(ways.begin(), ways.end(), [&](const air::Way& way) {
    return way.path.end == tank && way.start.verdict != air::StartVerdict::blocked;
  });
}

EmptyLines empty_lines(const System& system, const filling::FillHistory& history, const std::string& tank) {
  return Waiting(system, history).run(tank);
}

}  // namespace runnel::verdict
