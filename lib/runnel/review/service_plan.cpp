#include "runnel/review/service_plan.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "runnel/base/constants.h"
#include "runnel/network/no_flow.h"
#include "runnel/review/water_ways.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/say_others.h"

namespace runnel::review {

namespace {

using network::Line;
using network::PartKind;
using network::System;
using verdict::Draft;

// At most so many parts are planned, since each takes two solves.
constexpr std::size_t most_items = 500;

/// What each place gets: taps their flow, tanks what runs in, joints their draw.
std::vector<std::pair<std::string, double>> gets(const steady::State& state) {
  std::vector<std::pair<std::string, double>> all;
  for (const steady::PlaceState& p : state.outlets) all.emplace_back(p.name, p.flow_m3s);
  for (const steady::PlaceState& p : state.tanks) all.emplace_back(p.name, p.inflow_m3s);
  for (const steady::PlaceState& p : state.joints) all.emplace_back(p.name, p.draw_given_m3s);
  return all;
}

class Planner {
 public:
  explicit Planner(const System& system)
      : system_(system), ways_(system), as_drawn_(gets(steady::solve(system))) {}

  /// The plan with the bypasses open if that leaves fewer without water.
  ServiceItem plan(const ServiceItem& item, const Target& target) const {
    const ServiceItem plain = planned(item, isolate(ways_, target), {});
    if (!plain.possible || plain.without.empty()) return plain;
    const Isolation open = isolate(ways_, target, Bypasses::may_open);
    ServiceItem round = planned(item, open, round_it(open));
    const bool better = round.possible && round.solved && round.without.size() < plain.without.size();
    return better ? round : plain;
  }

  const WaterWays& ways() const { return ways_; }

 private:
  ServiceItem planned(ServiceItem item, const Isolation& isolation,
                      const std::vector<std::string>& bypasses) const {
    item.possible = isolation.possible;
    if (!isolation.possible) {
      if (isolation.fed_by) item.fed_by = system_.place_name(static_cast<int>(*isolation.fed_by));
      return item;
    }
    for (const ValveRef& valve : isolation.shut) item.shut.push_back(name_of(valve));
    serve(item, isolation, bypasses);
    drain(item, isolation);
    return item;
  }

  std::string name_of(const ValveRef& valve) const {
    return system_.lines()[static_cast<std::size_t>(valve.line)].parts[valve.part].name;
  }

  std::optional<steady::State> with(const std::vector<std::string>& shut,
                                    const std::vector<std::string>& open) const {
    network::Model model = system_.model();
    network::Setting setting;
    setting.name = "a part is out";
    for (const std::string& name : shut) setting.shut.emplace_back(name, Mark{});
    for (const std::string& name : open) setting.open.emplace_back(name, Mark{});
    model.settings = {setting};
    model.claims.clear();  // they may name settings that are no longer there
    auto set = network::under_setting(model, setting.name);
    if (!set) return std::nullopt;
    const auto system = network::resolve(std::move(*set.value));
    if (!system) return std::nullopt;
    steady::State state = steady::solve(*system.value);
    if (!state.proved()) return std::nullopt;
    return state;
  }

  /// Valves shut as drawn that let no water into the zone when they are opened.
  std::vector<std::string> round_it(const Isolation& isolation) const {
    std::vector<std::string> names;
    const auto wet = [&](std::size_t node) {
      return std::find(isolation.zone.begin(), isolation.zone.end(), node) != isolation.zone.end();
    };
    for (const Way& way : ways_.ways())
      if (way.valve && way.drawn_shut && !wet(way.from) && !wet(way.to)) names.push_back(name_of(*way.valve));
    return names;
  }

  bool in_zone(const std::string& place, const Isolation& isolation) const {
    const auto number = system_.find_place(place);
    return number && std::find(isolation.zone.begin(), isolation.zone.end(), ways_.node_of_place(*number)) !=
                         isolation.zone.end();
  }

  void serve(ServiceItem& item, const Isolation& isolation, const std::vector<std::string>& bypasses) const {
    auto state = with(item.shut, bypasses);
    if (!state) return;
    item.solved = true;
    for (const std::string& name : bypasses)
      if (carries(*state, name)) item.opened.push_back(name);
    const auto now = gets(*state);
    for (std::size_t i = 0; i < as_drawn_.size(); ++i) {
      const auto& [place, before] = as_drawn_[i];
      if (!(before > network::no_flow_m3s)) continue;
      const bool cut_off = in_zone(place, isolation) || !(now[i].second > network::no_flow_m3s);
      if (cut_off && place != item.name) item.without.push_back(place);
      if (!cut_off) item.served.push_back({place, now[i].second, before});
    }
  }

  bool carries(const steady::State& state, const std::string& valve) const {
    for (std::size_t i = 0; i < system_.lines().size(); ++i)
      for (const network::FittedPart& part : system_.lines()[i].parts)
        if (part.name == valve && part.kind == PartKind::valve)
          return std::fabs(state.lines[i].flow_m3s) > network::no_flow_m3s;
    return false;
  }

  /// The lowest washout of the zone, or else its lowest open tap.
  void drain(ServiceItem& item, const Isolation& isolation) const {
    double exit_m = std::numeric_limits<double>::infinity();
    for (const std::size_t node : isolation.zone) {
      const auto piece = ways_.piece(node);
      if (!piece) continue;
      const Line& line = system_.lines()[static_cast<std::size_t>(piece->line)];
      for (const network::FittedPart& part : line.parts) {
        const double at = part.at.metres();
        if (part.kind != PartKind::washout || at < piece->from_m || at > piece->to_m) continue;
        const double z = line.course.elevation_at(at);
        if (z < exit_m) exit_m = z, item.drains_to = part.name;
      }
    }
    for (std::size_t i = 0; item.drains_to.empty() && i < system_.outlets().size(); ++i) {
      const network::Outlet& tap = system_.outlets()[i];
      if (in_zone(tap.name, isolation) && !tap.shut && tap.elevation.metres() < exit_m)
        exit_m = tap.elevation.metres(), item.drains_to = tap.name;
    }
    if (item.drains_to.empty()) exit_m = -std::numeric_limits<double>::infinity();
    for (const std::size_t node : isolation.zone)
      if (const auto piece = ways_.piece(node)) item.drains_m3 += volume_above(*piece, exit_m);
  }

  double volume_above(const PipePiece& piece, double exit_m) const {
    const Line& line = system_.lines()[static_cast<std::size_t>(piece.line)];
    const auto& points = line.course.points();
    double volume_m3 = 0.0;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      if (points[i].station_m < piece.from_m || points[i].station_m >= piece.to_m) continue;
      const double low = std::min(points[i].elevation_m, points[i + 1].elevation_m);
      const double high = std::max(points[i].elevation_m, points[i + 1].elevation_m);
      const double share = high > low ? std::clamp((high - exit_m) / (high - low), 0.0, 1.0) : high >= exit_m;
      const double bore = line.pipes[static_cast<std::size_t>(points[i].pipe)].pipe.bore.metres();
      volume_m3 += share * points[i].length_m * pi / 4.0 * bore * bore;
    }
    return volume_m3;
  }

  const System& system_;
  WaterWays ways_;
  std::vector<std::pair<std::string, double>> as_drawn_;
};

const char* word_of(ServedKind kind) {
  switch (kind) {
    case ServedKind::union_:
      return "union";
    case ServedKind::valve:
      return "valve";
    case ServedKind::tank:
      return "tank";
    case ServedKind::box:
      break;
  }
  return "box";
}

/// One finding for all parts that the same water reaches without passing a valve.
void cannot_be_isolated(const std::vector<const ServiceItem*>& items, std::vector<Finding>& out) {
  const ServiceItem& first = *items.front();
  const bool opens = first.kind == ServedKind::union_;
  Draft d(opens ? "union-cannot-be-opened" : "cannot-be-isolated", Severity::warning);
  if (!first.where.pipeline.empty())
    d.on_line(first.where.pipeline, first.where.station_m.value_or(0.0));
  else
    d.at_place(first.name);
  d.message.say("No valve holds back the water of ").name(first.fed_by).say(" from the ");
  d.message.say(word_of(first.kind)).say(" ").name(first.name).say(": it cannot be ");
  d.message.say(opens ? "opened under water." : "taken out.");
  verdict::say_others(
      d.message, items, [](const ServiceItem* item) { return item->name; },
      [](const ServiceItem* item) {
        return item->where.pipeline.empty() ? item->name : item->where.pipeline;
      });
  d.advice.say("Put a valve between, or plan to empty ").name(first.fed_by).say(" first.");
  d.source("common practice, no source");
  out.push_back(d.done());
}

void all_that_cannot_be_isolated(const ServicePlan& plan, std::vector<Finding>& out) {
  std::map<std::pair<std::string, bool>, std::vector<const ServiceItem*>> by_water;
  for (const ServiceItem& item : plan.items)
    if (!item.possible && !item.fed_by.empty())
      by_water[{item.fed_by, item.kind == ServedKind::union_}].push_back(&item);
  for (const auto& [water, items] : by_water) cannot_be_isolated(items, out);
}

/// A place whose need is met as drawn, and missed while the part is bypassed.
void bypass_too_small(const System& system, const ServiceItem& item, std::vector<Finding>& out) {
  for (const StillServed& served : item.served)
    for (const network::Ask& ask : system.asks()) {
      if (ask.kind != network::AskKind::flow || ask.at != served.place || item.opened.empty()) continue;
      const double asked = ask.flow.si();
      if (served.as_drawn_m3s < asked || served.flow_m3s >= asked) continue;
      Draft d("bypass-too-small", Severity::warning);
      d.at_place(served.place);
      d.message.say("While ").name(item.name).say(" is out, ").name(served.place).say(" gets ");
      d.message.figure(Kind::flow, served.flow_m3s).say(" through the bypass, and needs ");
      d.message.figure(Kind::flow, asked).say(".");
      d.against({Kind::flow, served.flow_m3s}, {Kind::flow, asked});
      d.advice.say("Give the bypass a larger pipe, or do the work when little is drawn.");
      d.source("the model's own needs");
      out.push_back(d.done());
    }
}

void add_places(const System& system, std::vector<std::pair<ServiceItem, Target>>& out,
                const WaterWays& ways) {
  for (int i = 0; i < static_cast<int>(system.boxes().size()); ++i) {
    const std::string& name = system.boxes()[static_cast<std::size_t>(i)].name;
    out.push_back({{ServedKind::box, name, {name}}, {ways.node_of_place(system.box_place(i)), std::nullopt}});
  }
  for (int i = 0; i < static_cast<int>(system.tanks().size()); ++i) {
    if (system.tanks()[static_cast<std::size_t>(i)].held) continue;
    const std::string& name = system.tanks()[static_cast<std::size_t>(i)].name;
    out.push_back(
        {{ServedKind::tank, name, {name}}, {ways.node_of_place(system.tank_place(i)), std::nullopt}});
  }
}

void add_parts(const System& system, std::vector<std::pair<ServiceItem, Target>>& out,
               const WaterWays& ways) {
  for (int l = 0; l < static_cast<int>(system.lines().size()); ++l) {
    const Line& line = system.lines()[static_cast<std::size_t>(l)];
    for (std::size_t p = 0; p < line.parts.size(); ++p) {
      const network::FittedPart& part = line.parts[p];
      const bool valve = part.kind == PartKind::valve;
      if (!valve && part.kind != PartKind::union_) continue;
      ServiceItem item{valve ? ServedKind::valve : ServedKind::union_, part.name};
      item.where = {"", line.name, part.name, part.at.metres()};
      Target target{ways.node_at(l, part.at.metres()), std::nullopt};
      if (valve) target = {ways.node_before({l, p}), ValveRef{l, p}};
      out.push_back({std::move(item), target});
    }
  }
}

}  // namespace

ServicePlan plan_service(const System& system) {
  const Planner planner(system);
  std::vector<std::pair<ServiceItem, Target>> wanted;
  add_places(system, wanted, planner.ways());
  add_parts(system, wanted, planner.ways());
  ServicePlan plan;
  for (auto& [item, target] : wanted) {
    if (plan.items.size() == most_items) {
      ++plan.left_out;
      continue;
    }
    plan.items.push_back(planner.plan(std::move(item), target));
    bypass_too_small(system, plan.items.back(), plan.findings);
  }
  all_that_cannot_be_isolated(plan, plan.findings);
  return plan;
}

}  // namespace runnel::review
