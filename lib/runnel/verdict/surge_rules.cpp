// What a valve that shuts quickly does to the pipe before it.
#include <algorithm>
#include <cmath>

#include "runnel/pipes/surge.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

// A float valve, or a tap with an opening of its own, can stop the water at the end of the line.
bool ends_in_a_valve(const network::System& system, const network::Line& line) {
  if (const network::Tank* tank = system.tank(line.to)) return tank->float_valve.has_value();
  if (const network::Outlet* outlet = system.outlet(line.to)) return outlet->opening > Length{};
  return false;
}

double greatest_static_m(const steady::LineState& run) {
  double head = 0.0;
  for (const steady::LinePoint& p : run.points) head = std::max(head, p.static_head_m.value_or(0.0));
  return head;
}

}  // namespace

void quick_shutting(const Case& c, Findings& out) {
  const water::Water& water = c.system.site().water;
  const pipes::SurgeMedium medium{water.bulk_modulus_pa, water.density_kgm3, 1.0};
  for (const network::Line& line : c.system.lines()) {
    const steady::LineState* run = run_of(c.system, c.state, line);
    if (!run || run->reaches.empty() || !ends_in_a_valve(c.system, line)) continue;
    const steady::Reach& last = run->reaches.back();
    if (last.state != steady::ReachState::full && last.state != steady::ReachState::mixed) continue;
    const pipes::Pipe& pipe = line.pipes.back().pipe;
    const auto wave = pipes::wave_speed(pipe, medium);
    const auto allowed = allowed_pressure_pa(c.system, pipe);
    if (!wave || !allowed || !(last.velocity_ms > 0.0)) continue;
    const double surge =
        pipes::joukowsky_pressure(*wave, Velocity::from_si(last.velocity_ms), water.density_kgm3).si();
    const double standing = pressure_of_head(c.system, greatest_static_m(*run)).si;
    if (standing + surge <= *allowed || standing > *allowed) continue;
    double length = 0.0;
    for (const steady::Reach& r : run->reaches) length += r.length_m;
    Draft d("surge-above-rating", Severity::warning);
    d.on_line(line.name).against({Kind::pressure, standing + surge}, {Kind::pressure, *allowed});
    d.message.say("If the valve at ")
        .name(c.system.place_name(line.to))
        .say(" snaps shut, ")
        .name(line.name)
        .say(" feels ");
    d.message.figure(Kind::pressure, surge)
        .say(" on top of ")
        .figure(Kind::pressure, standing)
        .say(" standing; ")
        .name(pipe.name)
        .say(" is rated for ")
        .figure(Kind::pressure, *allowed)
        .say(".");
    d.advice.say("See that it takes far longer than ");
    d.advice.figure(Kind::duration, pipes::return_time(Length::metres(length), *wave).seconds());
    d.advice.say(" to shut, or take a larger or a stronger pipe.");
    d.source("a V/g [joukowsky-korteweg], wave speed from bore, wall and modulus, pipe free to stretch");
    out.push_back(d.done());
  }
}

}  // namespace runnel::verdict
