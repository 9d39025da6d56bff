#include "runnel/steady/line_plan.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/losses/area_change.h"

namespace runnel::steady {
namespace {

using network::Part;
using network::PartKind;
using network::Pipeline;
using network::PlaceKind;
using network::System;

constexpr double same_station_m = 1e-9;

double per_square(double k, double area_m2) { return k / (2.0 * gravity_ms2 * area_m2 * area_m2); }

double elevation_at(const Pipeline& line, double station_m) {
  const auto& survey = line.survey;
  for (std::size_t i = 1; i < survey.size(); ++i) {
    const double s0 = survey[i - 1].station.metres(), s1 = survey[i].station.metres();
    if (station_m > s1 && i + 1 < survey.size()) continue;
    const double z0 = survey[i - 1].elevation.metres(), z1 = survey[i].elevation.metres();
    const double t = s1 > s0 ? std::clamp((station_m - s0) / (s1 - s0), 0.0, 1.0) : 1.0;
    return z0 + t * (z1 - z0);
  }
  return survey.back().elevation.metres();
}

int pipe_at(const Pipeline& line, double station_m) {
  int pipe = 0;
  for (std::size_t p = 1; p < line.pipes.size(); ++p)
    if (line.pipes[p].from.metres() <= station_m + same_station_m) pipe = static_cast<int>(p);
  return pipe;
}

std::vector<Vertex> cut(const Pipeline& line) {
  std::vector<Vertex> vertices;
  for (const auto& point : line.survey)
    vertices.push_back({.station_m = point.station.metres(), .elevation_m = point.elevation.metres()});
  auto add = [&](double station_m) {
    station_m = std::clamp(station_m, vertices.front().station_m, vertices.back().station_m);
    auto after = std::lower_bound(vertices.begin(), vertices.end(), station_m - same_station_m,
                                  [](const Vertex& v, double s) { return v.station_m < s; });
    if (after != vertices.end() && after->station_m <= station_m + same_station_m) return;
    vertices.insert(
        after, {.station_m = station_m, .elevation_m = elevation_at(line, station_m), .survey_point = false});
  };
  for (const Part& part : line.parts) add(part.at.metres());
  for (const auto& laid : line.pipes) add(laid.from.metres());
  // A drop or rise at one station (a vertical riser) has slope length too.
  for (std::size_t i = 0; i + 1 < vertices.size(); ++i)
    vertices[i].length_m = std::hypot(vertices[i + 1].station_m - vertices[i].station_m,
                                      vertices[i + 1].elevation_m - vertices[i].elevation_m);
  for (Vertex& v : vertices) v.pipe = pipe_at(line, v.station_m);
  if (vertices.size() > 1) vertices.back().pipe = vertices[vertices.size() - 2].pipe;
  return vertices;
}

Vertex& vertex_at(std::vector<Vertex>& vertices, double station_m) {
  for (Vertex& v : vertices)
    if (v.station_m >= station_m - same_station_m) return v;
  return vertices.back();
}

void place_parts(const System& system, const Pipeline& line, LinePlan& plan) {
  for (const Part& part : line.parts) {
    Vertex& v = vertex_at(plan.vertices, part.at.metres());
    const auto& friction = plan.friction[static_cast<std::size_t>(v.pipe)];
    const double loss = per_square(part.loss, friction.area_m2());
    v.local_forward_s2m5 += loss;
    v.local_backward_s2m5 += loss;
    if (part.kind == PartKind::valve && part.open <= 0.0) plan.shut = v.shut = true;
    if (part.kind == PartKind::check_valve) plan.one_way = v.keeps_back = true;
    if (part.kind == PartKind::air_valve) v.floor_m = v.elevation_m;
    if (part.kind == PartKind::reducing_valve) {
      plan.one_way = v.keeps_back = true;
      const double set_m = v.elevation_m + part.set_pressure.pascals() / system.site.specific_weight_nm3();
      v.holds_m = v.holds_m ? std::min(*v.holds_m, set_m) : set_m;
    }
  }
}

/// Sudden changes of bore: an expansion one way is a contraction the other.
void place_changes(const Pipeline& line, LinePlan& plan) {
  for (std::size_t p = 1; p < line.pipes.size(); ++p) {
    const double from = line.pipes[p].from.metres();
    if (from <= plan.vertices.front().station_m + same_station_m) continue;
    Vertex& v = vertex_at(plan.vertices, from);
    const auto &before = plan.friction[p - 1], &after = plan.friction[p];
    const double smaller_m2 = std::min(before.area_m2(), after.area_m2());
    auto loss = [&](double from_bore_m, double to_bore_m) {
      return per_square(line.pipes[p].entry_loss.value_or(losses::area_change_loss(from_bore_m, to_bore_m)),
                        smaller_m2);
    };
    v.local_forward_s2m5 += loss(before.bore_m(), after.bore_m());
    v.local_backward_s2m5 += loss(after.bore_m(), before.bore_m());
  }
}

bool open_water(PlaceKind kind) { return kind == PlaceKind::box || kind == PlaceKind::tank; }

}  // namespace

LinePlan plan_line(const System& system, const Pipeline& line) {
  LinePlan plan;
  for (const auto& laid : line.pipes)
    plan.friction.emplace_back(system.friction, laid.pipe.bore.metres(), laid.pipe.roughness.metres(),
                               laid.pipe.hazen_c, system.site.water.kinematic_viscosity_m2s);
  plan.vertices = cut(line);
  const double below_m = line.air == network::Air::sealed ? system.site.vapour_limit_m() : 0.0;
  for (std::size_t i = 0; i < plan.vertices.size(); ++i) {
    Vertex& v = plan.vertices[i];
    // Where two pipes meet the pressure is lowest in the narrower one.
    const int before = plan.vertices[i == 0 ? 0 : i - 1].pipe;
    const double narrower_m2 = std::min(plan.friction[static_cast<std::size_t>(v.pipe)].area_m2(),
                                        plan.friction[static_cast<std::size_t>(before)].area_m2());
    v.velocity_head_s2m5 = per_square(1.0, narrower_m2);
    v.floor_m = v.elevation_m - below_m;
  }
  const PlaceKind from = *system.place_kind(line.from), to = *system.place_kind(line.to);
  // Water leaves an open box or tank only through a drowned mouth, sealed line or not.
  if (open_water(from)) plan.vertices.front().floor_m = plan.vertices.front().elevation_m;
  if (to != PlaceKind::joint) plan.vertices.back().floor_m = plan.vertices.back().elevation_m;
  // A tank receives at the higher of its inlet and its level.
  if (to == PlaceKind::tank)
    plan.vertices.back().floor_m =
        std::max(plan.vertices.back().floor_m, system.tank(line.to)->inlet.metres());
  place_parts(system, line, plan);
  place_changes(line, plan);

  const double first = plan.friction[static_cast<std::size_t>(plan.vertices.front().pipe)].area_m2();
  const double last = plan.friction[static_cast<std::size_t>(plan.vertices.back().pipe)].area_m2();
  plan.entrance_s2m5 = per_square(line.entrance_loss, first);
  plan.exit_s2m5 = per_square(line.exit_loss, last);
  // Flowing back, the mouth is at the other end: sharp entrance 0.5, exit 1.0 [water-supply-6-4].
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
