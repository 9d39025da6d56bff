// Parts that a line needs: washouts, valves, check valves; and whether it is wide enough for its grade.
#include <algorithm>
#include <cmath>

#include "runnel/air/line_air.h"
#include "runnel/air/profile.h"
#include "runnel/network/floats.h"
#include "runnel/review/measure.h"
#include "runnel/verdict/rules.h"

namespace runnel::review {

namespace {

using network::Line;
using network::PartKind;

int count_of(const Line& line, PartKind kind) {
  return static_cast<int>(std::count_if(line.parts.begin(), line.parts.end(),
                                        [&](const network::FittedPart& p) { return p.kind == kind; }));
}

/// How far the line climbs from a station on in one direction before it turns down.
double rise_from(const Line& line, std::size_t at, int step) {
  const auto z = [&](std::size_t i) { return line.survey[i].elevation.metres(); };
  std::size_t i = at;
  const auto more = [&] { return step > 0 ? i + 1 < line.survey.size() : i > 0; };
  const auto next = [&] { return step > 0 ? i + 1 : i - 1; };
  while (more() && z(next()) >= z(i)) i = next();
  return z(i) - z(at);
}

std::vector<Measured> rise_without_washout(const Seen& seen) {
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines())
    for (const air::WashoutAdvice& low : air::washouts_wanted(line)) {
      std::size_t at = 0;
      while (at + 1 < line.survey.size() && line.survey[at].station.metres() < low.station_m) ++at;
      out.push_back(exactly({"", line.name, "", low.station_m},
                            std::max(rise_from(line, at, 1), rise_from(line, at, -1))));
    }
  return out;
}

std::vector<Measured> valves_from_source(const Seen& seen) {
  std::vector<Measured> out;
  if (!seen.verdict.air) return out;
  for (const verdict::PathAir& way : seen.verdict.air->paths) {
    int valves = 0;
    for (const air::PathLeg& leg : way.path.legs) valves += count_of(*leg.line, PartKind::valve);
    out.push_back(exactly({way.path.source, "", "", std::nullopt}, valves));
  }
  // Several ways leave one source: the worst of them counts.
  std::stable_sort(out.begin(), out.end(), [](const Measured& a, const Measured& b) {
    return a.where.place != b.where.place ? a.where.place < b.where.place : a.si < b.si;
  });
  out.erase(std::unique(out.begin(), out.end(),
                        [](const Measured& a, const Measured& b) { return a.where.place == b.where.place; }),
            out.end());
  return out;
}

/// True if a tap, open or shut, that this line can feed backwards lies below the tank's water.
bool feeds_taps_backwards(const network::System& system, const Line& line, double level_m) {
  for (std::size_t i = 0; i < system.outlets().size(); ++i) {
    const int joint = system.hangs_on(static_cast<int>(i));
    const int place = system.outlet_place(static_cast<int>(i));
    bool near = joint == line.from;
    for (const int other : system.lines_at(place))
      near = near || system.lines()[static_cast<std::size_t>(other)].from == line.from;
    if (near && system.outlets()[i].elevation.metres() < level_m) return true;
  }
  return false;
}

std::vector<Measured> checks_before_drowned_inlets(const Seen& seen) {
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines()) {
    const network::Tank* tank = seen.system.tank(line.to);
    if (!tank || seen.system.kind(line.from) != network::PlaceKind::joint) continue;
    const Length top = network::full_level(seen.system.model(), *tank);
    if (line.end_elevation() + line.pipes.back().pipe.bore >= top) continue;
    if (!feeds_taps_backwards(seen.system, line, top.metres())) continue;
    out.push_back(exactly({"", line.name, "", std::nullopt}, count_of(line, PartKind::check_valve)));
  }
  return out;
}

std::vector<Measured> spring_bore(const Seen& seen) {
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines()) {
    const network::Box* box = seen.system.box(line.from);
    if (box && box->yield > Flow{})
      out.push_back(exactly({"", line.name, "", line.pipes.front().from.metres()},
                            line.pipes.front().pipe.bore.metres()));
  }
  return out;
}

/// Bore that the practice asks for at a grade [nrcs-grade; from memory]; none below 0.2 %, where it gives
/// none.
std::optional<Length> bore_for_grade(double grade) {
  if (grade > 0.010) return Length::inches(1.25);
  if (grade > 0.005) return Length::inches(1.5);
  if (grade > 0.002) return Length::inches(2.0);
  return std::nullopt;
}

/// The worst leg of each line that leaves a spring.
std::vector<Measured> bore_over_grade(const Seen& seen) {
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines()) {
    const network::Box* box = seen.system.box(line.from);
    if (!box || !(box->yield > Flow{})) continue;
    std::optional<Measured> worst;
    const auto& points = line.course.points();
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      const double plan_m = points[i + 1].station_m - points[i].station_m;
      if (!(plan_m > 0.0)) continue;
      const double grade = std::fabs(points[i + 1].elevation_m - points[i].elevation_m) / plan_m;
      const auto wanted = bore_for_grade(grade);
      if (!wanted) continue;
      const double share = line.pipes[static_cast<std::size_t>(points[i].pipe)].pipe.bore / *wanted;
      if (!worst || share < worst->si) worst = exactly({"", line.name, "", points[i].station_m}, share);
    }
    if (worst) out.push_back(*worst);
  }
  return out;
}

}  // namespace

std::vector<Measure> part_measures() {
  return {
      {"rise beside a low point without a washout", Kind::length,
       "to the higher of the high points beside it", rise_without_washout},
      {"valves on the way from a source", Kind::number, "fewest of the ways from a box or tank",
       valves_from_source},
      {"check valves before a drowned inlet", Kind::number, "where taps lie below the tank's water",
       checks_before_drowned_inlets},
      {"bore of the pipe that leaves a spring", Kind::bore, "of each line that leaves a box with a yield",
       spring_bore},
      {"bore over that for its grade", Kind::percent, "worst leg of each line that leaves a spring",
       bore_over_grade},
  };
}

}  // namespace runnel::review
