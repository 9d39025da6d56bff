// Troughs: room for the herd at the edge, water for the herd when it comes, and an inlet that dirty water
// does not reach.
#include <algorithm>
#include <cmath>
#include <set>

#include "runnel/base/constants.h"
#include "runnel/filling/tank_curve.h"
#include "runnel/losses/overflow.h"
#include "runnel/network/floats.h"
#include "runnel/review/measure.h"

namespace runnel::review {

namespace {

using network::System;
using network::Tank;

/// Stock that drinks from a tank, or from troughs below it; people do not.
double animals(const Tank& tank) {
  double head = 0.0;
  for (const network::Draw& draw : tank.draws)
    if (!draw.purpose.starts_with("people")) head += draw.head;
  return head;
}

double daily_m3(const Tank& tank) {
  double sum = 0.0;
  for (const network::Draw& draw : tank.draws)
    if (draw.head > 0.0 && !draw.purpose.starts_with("people")) sum += draw.flow.si() * 86400.0;
  return sum;
}

/// Length of the edge that animals can stand at; none for a shape without a plan.
std::optional<double> edge_m(const network::TankShape& shape) {
  if (const auto* round = std::get_if<network::UprightCylinder>(&shape)) return pi * round->diameter.metres();
  if (const auto* box = std::get_if<network::Cuboid>(&shape))
    return 2.0 * (box->length.metres() + box->width.metres());
  if (const auto* frustum = std::get_if<network::Frustum>(&shape)) return pi * frustum->top_diameter.metres();
  if (const auto* lying = std::get_if<network::LyingCylinder>(&shape))
    return 2.0 * (lying->length.metres() + lying->diameter.metres());
  return std::nullopt;
}

/// The tanks that lines lead to from a place, through joints and no farther than the first tank.
std::vector<const Tank*> fed_from(const System& system, int place) {
  std::vector<const Tank*> fed;
  std::set<int> seen{place};
  std::vector<int> next{place};
  while (!next.empty()) {
    const int at = next.back();
    next.pop_back();
    for (const network::Line& line : system.lines()) {
      if (line.from != at || !seen.insert(line.to).second) continue;
      if (const Tank* tank = system.tank(line.to))
        fed.push_back(tank);
      else
        next.push_back(line.to);
    }
  }
  return fed;
}

/// Where the stock of a tank drinks: at the troughs that it feeds, or at itself.
std::vector<const Tank*> troughs_of(const System& system, const Tank& tank) {
  std::vector<const Tank*> fed = fed_from(system, *system.find_place(tank.name));
  return fed.empty() ? std::vector<const Tank*>{&tank} : fed;
}

double holds_m3(const System& system, const Tank& tank) {
  const Length top = network::full_level(system.model(), tank);
  return filling::TankCurve(tank.shape).volume_m3((top - tank.floor).metres());
}

std::vector<Measured> edge_a_head(const Seen& seen) {
  std::vector<Measured> out;
  for (const Tank& tank : seen.system.tanks()) {
    const double head = animals(tank);
    if (!(head > 0.0) || tank.held) continue;
    double edge = 0.0;
    bool known = true;
    for (const Tank* trough : troughs_of(seen.system, tank)) {
      const auto one = edge_m(trough->shape);
      known = known && one;
      edge += one.value_or(0.0);
    }
    const Where where{tank.name};
    out.push_back(known ? exactly(where, edge / head)
                        : lacking(where, "the plan of the troughs of " + tank.name));
  }
  return out;
}

/// What the tank and its troughs hold when full, over the stock's daily need.
std::vector<Measured> held_over_daily_need(const Seen& seen) {
  std::vector<Measured> out;
  for (const Tank& tank : seen.system.tanks()) {
    const double need = daily_m3(tank);
    if (!(need > 0.0) || tank.held) continue;
    double holds = holds_m3(seen.system, tank);
    for (const Tank* trough : troughs_of(seen.system, tank))
      if (trough != &tank) holds += holds_m3(seen.system, *trough);
    out.push_back(exactly({tank.name}, holds / need));
  }
  return out;
}

double inflow_m3s(const Seen& seen, const Tank& tank) {
  const steady::PlaceState* state = seen.state.place(tank.name);
  return state ? std::max(0.0, state->inflow_m3s) : 0.0;
}

/// A herd that comes together drinks half its day's need in an hour: what the tank and its troughs hold and
/// what runs in meanwhile, over that.
std::vector<Measured> herd_at_once(const Seen& seen) {
  constexpr double an_hour_s = 3600.0;
  std::vector<Measured> out;
  for (const Tank& tank : seen.system.tanks()) {
    const double half = daily_m3(tank) / 2.0;
    if (!(half > 0.0) || tank.held) continue;
    double there = holds_m3(seen.system, tank) + inflow_m3s(seen, tank) * an_hour_s;
    for (const Tank* trough : troughs_of(seen.system, tank))
      if (trough != &tank) there += holds_m3(seen.system, *trough);
    out.push_back(exactly({tank.name}, there / half));
  }
  return out;
}

/// How far the water falls into a trough: from its inlet to its rim, or to the lip where no rim is given.
std::vector<Measured> inlet_over_rim(const Seen& seen) {
  std::vector<Measured> out;
  for (const Tank& tank : seen.system.tanks())
    if (!tank.held) out.push_back(exactly({tank.name}, (tank.inlet - tank.rim.value_or(tank.lip)).metres()));
  return out;
}

/// How much of the room up to the rim the overflow takes at what runs in; where both are given.
std::vector<Measured> tank_overflow(const Seen& seen) {
  std::vector<Measured> out;
  for (const Tank& tank : seen.system.tanks()) {
    if (!tank.overflow || !tank.rim || tank.held) continue;
    const auto head = losses::overflow_head(*tank.overflow, inflow_m3s(seen, tank));
    const double room_m = (*tank.rim - tank.lip).metres();
    constexpr double no_room = 1e6;
    out.push_back(exactly({tank.name}, head && room_m > 0.0 ? head->head_m / room_m : no_room));
  }
  return out;
}

}  // namespace

std::vector<Measure> trough_measures() {
  return {
      {"trough edge a head", Kind::length, "edge of the tank that the stock is drawn from, or of its troughs",
       edge_a_head},
      {"water held over daily need of the stock", Kind::percent, "of each tank that stock drinks from",
       held_over_daily_need},
      {"water for a herd at once", Kind::percent,
       "what stands in the tank and its troughs and runs in within an hour, over half the day's need",
       herd_at_once},
      {"inlet above the rim", Kind::length, "of each tank; above the lip where no rim is given",
       inlet_over_rim},
      {"tank overflow over its room", Kind::percent,
       "water over the lip at what runs in, over the height from lip to rim", tank_overflow},
  };
}

}  // namespace runnel::review
