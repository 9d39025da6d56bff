// Where the wave of a valve that snaps shut swings so low that the water column parts.
#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <optional>

#include "runnel/pipes/surge_limits.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/say_others.h"
#include "runnel/verdict/surge_way.h"

namespace runnel::verdict {
namespace {

constexpr Code surge_parts_column_rule{
    "surge-parts-column",
    "a valve shut quickly tears the water apart at a high point",
    "The pressure wave of a valve swings back as far below as it rose above. At a high point without an "
    "air valve, on its way to the nearest open water or behind the valve, it sucks too hard: with more than "
    "7 m at sea level, and less where the air is thinner.",
    "The water parts, and slams together again harder than the first blow. Suction draws in dirt, and can"
    " crush thin pipe.",
    "Let the valve close slowly, dig the high point down, take a larger pipe, or set an air valve there.",
    "-7 m at sea level (common practice, from memory); [joukowsky-korteweg]"};

// A survey point above its neighbours, or a joint above every line that meets there.
bool is_high(const Case& c, const SurgedStretch& s, std::size_t i) {
  const auto& points = s.run->points;
  const double z = points[i].elevation_m;
  if (i > 0 && i + 1 < points.size()) {
    std::size_t left = i, right = i;
    while (left > 0 && points[left].elevation_m == z) --left;
    while (right + 1 < points.size() && points[right].elevation_m == z) ++right;
    return points[left].elevation_m < z && points[right].elevation_m < z;
  }
  const int place = i == 0 ? s.line->from : s.line->to;
  if (c.system.kind(place) != network::PlaceKind::joint) return false;
  for (int index : c.system.lines_at(place)) {
    const network::Line& meets = c.system.lines()[static_cast<std::size_t>(index)];
    const auto& survey = meets.survey;
    const auto& next = meets.from == place ? survey[1] : survey[survey.size() - 2];
    if (next.elevation.metres() >= z) return false;
  }
  return true;
}

// Once all has stopped the wave swings about the standing pressure; where water still runs, about the lower.
std::optional<double> swings_about(const steady::LinePoint& p, const SurgedStretch& s) {
  if (s.before && s.all_stopped && p.static_head_m) return p.static_head_m;
  if (!s.before || !p.static_head_m) return p.pressure_head_m;
  return std::min(*p.static_head_m, p.pressure_head_m.value_or(*p.static_head_m));
}

// An air valve lets air in before the column parts.
bool takes_in_air(const network::Line& line, double station_m) {
  return std::ranges::any_of(line.parts, [&](const network::FittedPart& part) {
    return part.kind == network::PartKind::air_valve &&
           std::abs(part.at.metres() - station_m) <= network::same_station_m;
  });
}

struct Parting {
  const Surge* surge = nullptr;
  const SurgedStretch* stretch = nullptr;
  double station_m = 0.0, lowest_m = 0.0;
};

void worst_parting(const Case& c, const Surge& surge, const SurgedStretch& s, double limit_m,
                   std::map<const network::Line*, Parting>& worst) {
  if (!s.head) return;
  const PointRange on = points_on(s);
  for (std::size_t i = on.first; i < on.last; ++i) {
    const steady::LinePoint& p = s.run->points[i];
    if (!is_high(c, s, i) || takes_in_air(*s.line, p.station_m)) continue;
    const auto about = swings_about(p, s);
    if (!about || *about - s.head->held_m >= limit_m) continue;
    Parting& known = worst[s.line];
    if (!known.surge || *about - s.head->held_m < known.lowest_m)
      known = {&surge, &s, p.station_m, *about - s.head->held_m};
  }
}

Finding parting_finding(const std::vector<Parting>& all, double limit_m) {
  const Parting& p = all.front();
  Draft d(surge_parts_column_rule, Severity::warning);
  d.on_line(p.stretch->line->name, p.station_m).against({Kind::head, p.lowest_m}, {Kind::head, limit_m});
  d.message.say("If ").name(p.surge->valve).say(" snaps shut, the wave would swing to ");
  d.message.figure(Kind::head, p.lowest_m).say(" at the high point of ").name(p.stretch->line->name);
  d.message.say(" at ").figure(Kind::length, p.station_m).say(": below ").figure(Kind::head, limit_m);
  d.message.say(" the water parts there and slams together again.");
  if (p.stretch->head->hold_known)
    d.message.say(" Free pipe swings by ")
        .figure(Kind::head, p.stretch->head->free_m)
        .say(", pipe held fast by ")
        .figure(Kind::head, p.stretch->head->held_m)
        .say(".");
  say_others(
      d.message, all, [](const Parting& x) { return x.stretch->line->name; },
      [](const Parting& x) { return x.surge->valve; });
  d.advice.say("Let it shut slowly (longest return of the wave ");
  double return_s = 0.0;
  for (const Parting& x : all)
    return_s = std::max(return_s, x.stretch->before ? x.surge->return_s : x.surge->behind_return_s);
  d.advice.figure(Kind::duration, return_s).say("), dig the high point down, or take a larger pipe.");
  d.source(
      "no lower than 7 m under the air's pressure at sea level, less under thinner air (common practice, "
      "from memory); a V/g [joukowsky-korteweg], pipe held throughout [pipe-restraint]");
  return d.done();
}

}  // namespace

void columns_parted(const Case& c, const std::vector<Surge>& all, Findings& out) {
  const network::Site& site = c.system.site();
  const double limit_m = pipes::lowest_surge_head(site.air_pressure_pa, site.water.density_kgm3).metres();
  std::map<const network::Line*, Parting> parted;
  for (const Surge& surge : all)
    for (const SurgedStretch& s : surge.stretches) worst_parting(c, surge, s, limit_m, parted);
  std::vector<Parting> partings = values_of(parted);
  std::ranges::stable_sort(partings, std::less{}, &Parting::lowest_m);
  if (!partings.empty()) out.push_back(parting_finding(partings, limit_m));
}

std::vector<Code> surge_parting_codes() { return {surge_parts_column_rule}; }

}  // namespace runnel::verdict
