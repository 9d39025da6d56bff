#include "runnel/filling/regime_events.h"

#include <cmath>

#include "runnel/base/index.h"

namespace runnel::filling {
namespace {

enum class Reason { still, held, ends, mouth, crest };

struct Governing {
  Reason reason = Reason::still;
  bool back = false;
  double station_m = -1.0;
};

Governing governing(const steady::Assembly& assembly, std::size_t line, const Law& law) {
  Governing g;
  if (law.kind == Law::Kind::still) return g;
  if (law.kind == Law::Kind::held) return {Reason::held};
  const steady::Link& link = assembly.kernel.links[at(assembly.line_link[line])];
  g.back = law.kind == Law::Kind::backward;
  const steady::Control& control =
      assembly.kernel.controls[(g.back ? link.backward : link.forward) + law.control];
  const network::Course& course = assembly.plans[line].course;
  g.station_m = control.station_m;
  g.reason = Reason::ends;
  if (!control.from_node || control.to_node || control.station_m < 0.0) return g;
  const double first = g.back ? course.last_m() : course.first_m();
  const double last = g.back ? course.first_m() : course.last_m();
  if (control.station_m == first)
    g.reason = Reason::mouth;
  else if (control.station_m != last)
    g.reason = Reason::crest;
  return g;
}

void line_events(const network::System& system, const network::Line& line, double time_s,
                 const Governing& before, const Governing& after, std::vector<Event>& events) {
  auto say = [&](EventKind what) {
    Event event;
    event.time_s = time_s;
    event.what = what;
    event.pipeline = line.name;
    if (what == EventKind::line_crest_governs) event.station_m = after.station_m;
    if (what == EventKind::runs_low || what == EventKind::runs_full_again)
      event.place =
          system.place_name((what == EventKind::runs_low ? after.back : before.back) ? line.to : line.from);
    events.push_back(std::move(event));
  };
  const bool stood = before.reason == Reason::still, stands = after.reason == Reason::still;
  if (stood && stands) return;
  if (stands)
    say(EventKind::line_stops);
  else if (after.back && (stood || !before.back))
    say(EventKind::line_turns);
  else if (stood || before.back)
    say(EventKind::line_starts);
  if (stands || stood) return;
  if (after.reason == Reason::mouth && before.reason != Reason::mouth)
    say(EventKind::runs_low);
  else if (before.reason == Reason::mouth && after.reason != Reason::mouth)
    say(EventKind::runs_full_again);
  if (after.reason == Reason::crest &&
      (before.reason != Reason::crest || before.station_m != after.station_m))
    say(EventKind::line_crest_governs);
  else if (before.reason == Reason::crest && after.reason == Reason::ends)
    say(EventKind::line_ends_govern);
}

}  // namespace

void regime_events(const network::System& system, const steady::Assembly& assembly, double time_s,
                   const Instant& before, const Instant& after, std::vector<Event>& events) {
  for (std::size_t l = 0; l < system.lines().size(); ++l) {
    const int link = assembly.line_link[l];
    const Law from = before.law[at(link)], to = after.law[at(link)];
    if (from == to || from.kind == Law::Kind::held || to.kind == Law::Kind::held) continue;
    bool said = false;
    for (const Event& event : events) {
      const bool valve = event.what == EventKind::float_shuts || event.what == EventKind::float_opens;
      said =
          said || (valve && event.time_s == time_s && event.place == system.place_name(system.lines()[l].to));
    }
    if (said && (from.kind == Law::Kind::still || to.kind == Law::Kind::still)) continue;
    line_events(system, system.lines()[l], time_s, governing(assembly, l, from), governing(assembly, l, to),
                events);
  }
  for (std::size_t b = 0; b < system.boxes().size(); ++b) {
    const std::size_t node = at(assembly.nodes_of(network::PlaceKind::box)[b]);
    if (assembly.kernel.nodes[node].fixed) continue;  // a storage: its rim says so
    const bool spilled = before.hold[node] == steady::Hold::lip,
               spills = after.hold[node] == steady::Hold::lip;
    if (spilled == spills) continue;
    Event event;
    event.time_s = time_s;
    event.what = spills ? EventKind::box_spill_begins : EventKind::box_spill_ends;
    event.place = system.boxes()[b].name;
    events.push_back(std::move(event));
  }
}

}  // namespace runnel::filling
