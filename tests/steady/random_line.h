#pragma once
// Seeded random single lines with crests, and what they carry by a backward trace: the second method of
// the check set ("H_i = max(floor_i, H_(i+1) + loss_i) from the end back; capacity is the largest flow whose
// asked box level is at or below the lip"), by bisection on the flow.
#include <algorithm>
#include <cmath>
#include <random>

#include "runnel/losses/mouth.h"
#include "runnel/steady/assemble.h"
#include "support/resolved.h"

namespace runnel::test {

class RandomLine {
 public:
  explicit RandomLine(std::uint64_t seed) : random_(seed) {
    using namespace network;
    system.site.water = {.temperature_c = 10.0,
                         .density_kgm3 = 999.7,
                         .kinematic_viscosity_m2s = 1.3e-6,
                         .vapour_pressure_pa = 1228.0};
    system.friction.law = chance(0.5) ? losses::Law::darcy_weisbach : losses::Law::hazen_williams;
    Pipeline line;
    line.name = "main";
    line.from = "box";
    line.to = "end";
    lip_m = 100.0 + between(0.01, 2.0);
    if (chance(0.3)) line.air = Air::sealed;
    const double end_m = walk(line);
    add_pipes(line);
    line.entrance_loss = 0.5;
    line.exit_loss = 1.0;
    Box box;
    box.name = "box";
    box.yield = Flow::from_si(std::pow(10.0, between(-6.0, -2.0)));
    box.outlet = Length::metres(100.0);
    box.lip = Length::metres(lip_m);
    system.boxes = {box};
    Outlet end;
    end.name = "end";
    end.elevation = Length::metres(end_m);
    if (chance(0.5)) {
      // No wider than the pipe it ends: the reader refuses what is wider.
      end.opening = std::min(Length::metres(between(0.004, 0.05)), line.pipes.back().pipe.bore);
      end.loss = between(1.0, 10.0);
      line.exit_loss = 0.0;
      const double area = 3.14159265358979323846 * end.opening.metres() * end.opening.metres() / 4.0;
      opening_s2m5_ = end.loss / (2.0 * 9.80665 * area * area);
    }
    system.outlets = {end};
    system.pipelines = {line};
    plan_ = steady::plan_line(system, line);
  }

  /// Box level the line asks for at a flow.
  double asked_level(double q) const {
    const auto& v = plan_.vertices;
    const auto& points = plan_.course.points();
    const std::size_t last = v.size() - 1;
    double energy = std::max(system.outlets[0].elevation.metres(), v[last].floor_m) +
                    (plan_.exit_s2m5 + opening_s2m5_ + v[last].local_forward_s2m5) * q * q;
    for (std::size_t i = last; i-- > 0;) {
      const double friction =
          plan_.friction[static_cast<std::size_t>(points[i].pipe)].per_metre(q).head_m * points[i].length_m;
      // The pipe's own height holds on both sides of a point: behind what is lost there, and before it.
      energy = std::max(energy + friction, v[i].floor_m + v[i].behind_s2m5 * q * q) +
               v[i].local_forward_s2m5 * q * q;
      if (i > 0) energy = std::max(energy, v[i].floor_m + v[i].before_s2m5 * q * q);
    }
    return energy + plan_.entrance_s2m5 * q * q;
  }

  /// What the mouth in the box asks for by itself.
  double asked_by_mouth(double q) const {
    const network::CoursePoint &first = plan_.course.points()[0], &next = plan_.course.points()[1];
    const losses::Mouth mouth(losses::MouthEdge::square_in_wall, plan_.friction[0].bore_m(),
                              (first.elevation_m - next.elevation_m) / first.length_m);
    return first.elevation_m + mouth.over_axis(q).head_m;
  }

  double flow_by_trace(bool with_mouth = true) const {
    const auto asked = [&](double q) {
      return with_mouth ? std::max(asked_level(q), asked_by_mouth(q)) : asked_level(q);
    };
    if (asked(0.0) >= lip_m) return 0.0;
    double low = 0.0, high = 1.0;
    for (int i = 0; i < 200; ++i) {
      const double q = 0.5 * (low + high);
      (asked(q) < lip_m ? low : high) = q;
    }
    return std::min(system.boxes[0].yield.si(), low);
  }

  network::Model system;
  double lip_m = 0.0;

 private:
  double between(double a, double b) { return std::uniform_real_distribution<>(a, b)(random_); }
  bool chance(double p) { return between(0.0, 1.0) < p; }

  double walk(network::Pipeline& line) {
    const int points = 2 + static_cast<int>(between(0.0, 30.0));
    const double trend = between(-0.1, 0.02);
    double x = 0.0, z = 100.0;
    line.survey.push_back({Length::metres(x), Length::metres(z)});
    for (int i = 1; i < points; ++i) {
      const double dx = between(1.0, 120.0);
      x += dx;
      z += dx * (trend + between(-0.15, 0.15) * between(0.0, 1.0));
      if (z > lip_m - 0.02 && chance(0.9)) z = lip_m - between(0.02, 5.0);  // most crests below the lip
      line.survey.push_back({Length::metres(x), Length::metres(z)});
    }
    return z;
  }

  void add_pipes(network::Pipeline& line) {
    const double length = line.survey.back().station.metres();
    double from = 0.0;
    for (int k = 1 + static_cast<int>(between(0.0, 3.0)); k > 0; --k) {
      pipes::Pipe pipe;
      pipe.bore = Length::metres(between(0.012, 0.11));
      pipe.roughness = Length::metres(chance(0.5) ? 1.5e-6 : 1.5e-4);
      pipe.hazen_c = between(90.0, 150.0);
      line.pipes.push_back({pipe, Length::metres(from), {}, {}});
      from += between(0.1, 0.5) * length;
    }
    if (chance(0.3)) {
      network::Part part;
      part.at = Length::metres(between(0.0, length));
      part.loss = between(0.0, 20.0);
      line.parts.push_back(part);
    }
  }

  std::mt19937_64 random_;
  steady::LinePlan plan_;
  double opening_s2m5_ = 0.0;
};

}  // namespace runnel::test
