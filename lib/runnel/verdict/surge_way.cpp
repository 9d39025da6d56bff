#include "runnel/verdict/surge_way.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "runnel/network/no_flow.h"
#include "runnel/pipes/surge.h"

namespace runnel::verdict {
namespace {

using steady::ReachState;

// Two flows are one if they differ by less than the solver's own closure on small systems.
constexpr double same_flow = 1e-6;

struct Speeds {
  Velocity free, held;
  bool hold_known = true;
};

std::optional<Speeds> speeds_of(const pipes::Pipe& pipe, const water::Water& water) {
  if (const auto both = pipes::wave_speeds(pipe, water.bulk_modulus_pa, water.density_kgm3))
    return Speeds{both->free, both->buried, true};
  const auto free = pipes::wave_speed(pipe, {water.bulk_modulus_pa, water.density_kgm3, 1.0});
  if (!free) return std::nullopt;
  return Speeds{*free, *free, false};
}

// Follows one wave from line to line.
class Follow {
 public:
  Follow(const Case& c, double stopped_m3s, Surge& out)
      : c_(c), stopped_m3s_(stopped_m3s), out_(out), seen_(c.system.lines().size(), false) {}

  /// Follows the wave from a station of a line, against the flow or with it.
  void line(int index, double at_m, bool against, SurgeHead head = {}, double time_s = 0.0) {
    const network::Line& line = c_.system.lines()[static_cast<std::size_t>(index)];
    const steady::LineState* run = run_of(c_.system, c_.state, line);
    seen_[static_cast<std::size_t>(index)] = true;
    if (!run) return;
    const bool rising = (run->flow_m3s > 0.0) != against;
    bool full = true;
    for (std::size_t i = 0; full && i < run->reaches.size(); ++i) {
      const steady::Reach& reach = run->reaches[rising ? i : run->reaches.size() - 1 - i];
      full = add(line, *run, reach, {at_m, rising, against}, head, time_s);
    }
    double& return_s = against ? out_.return_s : out_.behind_return_s;
    return_s = std::max(return_s, 2.0 * time_s);
    if (full) place(rising ? line.to : line.from, against, head, time_s);
  }

  /// Follows it from a joint, through the lines that bring its water, or those that take it.
  void place(int place, bool against, SurgeHead head = {}, double time_s = 0.0) {
    if (c_.system.kind(place) != network::PlaceKind::joint) return;
    for (int index : c_.system.lines_at(place)) {
      const network::Line& next = c_.system.lines()[static_cast<std::size_t>(index)];
      const steady::LineState* run = run_of(c_.system, c_.state, next);
      if (seen_[static_cast<std::size_t>(index)] || !run || std::abs(run->flow_m3s) <= network::no_flow_m3s)
        continue;
      const bool brings = (next.to == place) == (run->flow_m3s > 0.0);
      if (brings == against) line(index, from_end(next, next.from == place), against, head, time_s);
    }
  }

 private:
  struct Way {
    double at_m;
    bool rising, against;
  };

  static double from_end(const network::Line& line, bool first) {
    return (first ? line.survey.front() : line.survey.back()).station.metres();
  }

  // False where a free surface ends the wave.
  bool add(const network::Line& line, const steady::LineState& run, const steady::Reach& reach,
           const Way& way, SurgeHead& head, double& time_s) {
    double from = reach.from_m, to = reach.to_m;
    (way.rising ? from : to) = way.rising ? std::max(from, way.at_m) : std::min(to, way.at_m);
    const auto is_nothing = [&] { return to - from <= network::same_station_m; };
    if (is_nothing()) return true;
    const bool mixed = reach.state == ReachState::mixed && way.against;
    if (reach.state != ReachState::full && !mixed) return false;
    if (mixed && reach.refill_station_m) (way.rising ? to : from) = *reach.refill_station_m;
    if (is_nothing()) return false;  // the valve itself stands in the part-full pipe
    const auto last = line.pipes.size() - 1;
    const pipes::Pipe& pipe =
        line.pipes[std::min(static_cast<std::size_t>(std::max(reach.pipe, 0)), last)].pipe;
    SurgedStretch stretch{&line, &run, &pipe, from, to, way.against, false, std::nullopt};
    stretch.all_stopped = std::abs(run.flow_m3s) <= stopped_m3s_ * (1.0 + same_flow);
    if (const auto speeds = speeds_of(pipe, c_.system.site().water)) {
      head.free_m = std::max(head.free_m, stopped_m3s_ / pipes::wave_admittance(pipe.bore, speeds->free));
      head.held_m = std::max(head.held_m, stopped_m3s_ / pipes::wave_admittance(pipe.bore, speeds->held));
      head.hold_known = speeds->hold_known;
      stretch.head = head;
      const double share = (to - from) / (reach.to_m - reach.from_m);
      time_s += share * reach.length_m / speeds->held.metres_per_second();
    }
    out_.stretches.push_back(stretch);
    return !mixed;
  }

  const Case& c_;
  double stopped_m3s_;
  Surge& out_;
  std::vector<bool> seen_;
};

void end_surge(const Case& c, int line, Surge surge, std::vector<Surge>& out) {
  const steady::LineState* run = run_of(c.system, c.state, c.system.lines()[static_cast<std::size_t>(line)]);
  const network::Line& ends = c.system.lines()[static_cast<std::size_t>(line)];
  const double at_m = (run->flow_m3s > 0.0 ? ends.survey.back() : ends.survey.front()).station.metres();
  Follow(c, std::abs(run->flow_m3s), surge).line(line, at_m, true);
  out.push_back(std::move(surge));
}

// Adds the tap or the float valve at the place where the line's water arrives.
void surges_at_end(const Case& c, int line, const steady::LineState& run, std::vector<Surge>& out) {
  const network::Line& ends = c.system.lines()[static_cast<std::size_t>(line)];
  const int place = run.flow_m3s > 0.0 ? ends.to : ends.from;
  const std::string& name = c.system.place_name(place);
  if (c.system.tank(place) && ends.float_valve)
    end_surge(c, line, {"the float valve of " + name, pipes::SurgeKind::recurring, {}, 0.0}, out);
  if (const network::Outlet* outlet = c.system.outlet(place); outlet && outlet->opening > Length{})
    end_surge(c, line, {name, pipes::SurgeKind::recurring, {}, 0.0}, out);
}

// Adds the valves in a line, which are shut seldom and by hand.
void surges_at_parts(const Case& c, int line, const steady::LineState& run, std::vector<Surge>& out) {
  const network::Line& holds = c.system.lines()[static_cast<std::size_t>(line)];
  for (const network::FittedPart& part : holds.parts) {
    if (part.kind != network::PartKind::valve || !(part.open > 0.0)) continue;
    Surge surge{(part.name.empty() ? part.type : part.name) + " on " + holds.name,
                pipes::SurgeKind::occasional,
                {},
                0.0};
    Follow(c, std::abs(run.flow_m3s), surge).line(line, part.at.metres(), true);
    Follow(c, std::abs(run.flow_m3s), surge).line(line, part.at.metres(), false);
    out.push_back(std::move(surge));
  }
}

}  // namespace

PointRange points_on(const SurgedStretch& stretch) {
  const auto& points = stretch.run->points;
  const auto station = &steady::LinePoint::station_m;
  const auto first =
      std::ranges::lower_bound(points, stretch.from_m - network::same_station_m, std::less{}, station);
  const auto last =
      std::ranges::upper_bound(points, stretch.to_m + network::same_station_m, std::less{}, station);
  return {static_cast<std::size_t>(first - points.begin()), static_cast<std::size_t>(last - points.begin())};
}

std::vector<Surge> surges(const Case& c) {
  std::vector<Surge> out;
  for (std::size_t i = 0; i < c.system.lines().size(); ++i) {
    const steady::LineState* run = run_of(c.system, c.state, c.system.lines()[i]);
    if (!run || std::abs(run->flow_m3s) <= network::no_flow_m3s) continue;
    surges_at_parts(c, static_cast<int>(i), *run, out);
    surges_at_end(c, static_cast<int>(i), *run, out);
  }
  for (std::size_t i = 0; i < c.system.outlets().size() && i < c.state.outlets.size(); ++i) {
    const int place = c.system.outlet_place(static_cast<int>(i));
    const int joint = c.system.hangs_on(static_cast<int>(i));
    const double flow = c.state.outlets[i].flow_m3s;
    const network::Outlet& outlet = c.system.outlets()[i];
    if (joint < 0 || !(outlet.opening > Length{}) || flow <= network::no_flow_m3s) continue;
    Surge surge{c.system.place_name(place), pipes::SurgeKind::recurring, {}, 0.0};
    Follow(c, flow, surge).place(joint, true);
    out.push_back(std::move(surge));
  }
  return out;
}

}  // namespace runnel::verdict
