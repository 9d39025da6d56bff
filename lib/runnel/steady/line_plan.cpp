#include "runnel/steady/line_plan.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/network/place_state.h"

namespace runnel::steady {
namespace {

using network::Line;
using network::open_water;
using network::PartKind;
using network::PlaceKind;
using network::System;

double per_square(double k, double area_m2) { return k / (2.0 * gravity_ms2 * area_m2 * area_m2); }

void place_parts(const System& system, const Line& line, LinePlan& plan) {
  for (const network::FittedPart& part : line.parts) {
    const std::size_t point = line.course.point_at(part.at.metres());
    Vertex& v = plan.vertices[point];
    const double elevation_m = line.course.points()[point].elevation_m;
    const auto& friction = plan.friction[static_cast<std::size_t>(line.course.points()[point].pipe)];
    const double loss = per_square(part.k, friction.area_m2());
    v.local_forward_s2m5 += loss;
    v.local_backward_s2m5 += loss;
    if (part.kind == PartKind::valve && part.open <= 0.0) plan.shut = v.shut = true;
    if (part.kind == PartKind::check_valve) plan.one_way = v.keeps_back = true;
    if (part.kind == PartKind::air_valve) v.floor_m = elevation_m;
    if (part.kind == PartKind::reducing_valve) {
      plan.one_way = v.keeps_back = true;
      const double set_m = elevation_m + part.set_pressure.pascals() / system.site().specific_weight_nm3();
      v.holds_m = v.holds_m ? std::min(*v.holds_m, set_m) : set_m;
    }
  }
}

/// Adds sudden changes of bore, each an expansion one way and a contraction the other.
void place_changes(const Line& line, LinePlan& plan) {
  for (std::size_t p = 1; p < line.pipes.size(); ++p) {
    const network::FittedPipe& laid = line.pipes[p];
    if (laid.from.metres() <= line.course.first_m() + network::same_station_m) continue;
    Vertex& v = plan.vertices[line.course.point_at(laid.from.metres())];
    const double smaller_m2 = std::min(plan.friction[p - 1].area_m2(), plan.friction[p].area_m2());
    v.local_forward_s2m5 += per_square(laid.change_forward, smaller_m2);
    v.local_backward_s2m5 += per_square(laid.change_backward, smaller_m2);
  }
}

}  // namespace

LinePlan plan_line(const System& system, const Line& line) {
  LinePlan plan;
  for (const auto& laid : line.pipes)
    plan.friction.emplace_back(system.friction(), laid.pipe.bore.metres(), laid.pipe.roughness.metres(),
                               laid.pipe.hazen_c, system.site().water.kinematic_viscosity_m2s);
  plan.course = line.course;
  const auto& points = plan.course.points();
  plan.vertices.resize(points.size());
  const double below_m = line.air == network::Air::sealed ? system.site().vapour_limit_m() : 0.0;
  for (std::size_t i = 0; i < plan.vertices.size(); ++i) {
    Vertex& v = plan.vertices[i];
    const int before = points[i == 0 ? 0 : i - 1].pipe;
    v.before_s2m5 = per_square(1.0, plan.friction[static_cast<std::size_t>(before)].area_m2());
    v.behind_s2m5 = per_square(1.0, plan.friction[static_cast<std::size_t>(points[i].pipe)].area_m2());
    v.floor_m = points[i].elevation_m - below_m;
  }
  const PlaceKind from = system.kind(line.from), to = system.kind(line.to);
  // Water leaves an open box or tank only through a drowned mouth, sealed line or not.
  if (open_water(from)) plan.vertices.front().floor_m = points.front().elevation_m;
  if (to != PlaceKind::joint) plan.vertices.back().floor_m = points.back().elevation_m;
  // A tank receives at the higher of its inlet and its level.
  if (to == PlaceKind::tank)
    plan.vertices.back().floor_m =
        std::max(plan.vertices.back().floor_m, system.tank(line.to)->inlet.metres());
  place_parts(system, line, plan);
  place_changes(line, plan);

  const double first = plan.friction[static_cast<std::size_t>(points.front().pipe)].area_m2();
  const double last = plan.friction[static_cast<std::size_t>(points.back().pipe)].area_m2();
  plan.entrance_s2m5 = per_square(line.entrance_loss, first);
  plan.exit_s2m5 = per_square(line.exit_loss, last);
  // When water flows back the mouth is at the other end: sharp entrance 0.5, exit 1.0 [water-supply-6-4].
  plan.back_entrance_s2m5 = per_square(open_water(to) ? 0.5 : line.exit_loss, last);
  plan.back_exit_s2m5 = per_square(open_water(from) ? 1.0 : line.entrance_loss, first);
  if (to == PlaceKind::outlet) plan.one_way = true;
  return plan;
}

double opening_s2m5(const network::Outlet& outlet) {
  const double bore = outlet.opening.metres();
  return bore > 0.0 ? per_square(outlet.loss, pi * bore * bore / 4.0) : 0.0;
}

}  // namespace runnel::steady
