#include "runnel/filling/drain_down.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace runnel::filling {
namespace {

using network::Line;
using network::PartKind;
using network::SurveyPoint;
using network::System;

Length elevation_at(const Line& line, double station_m) {
  return Length::metres(line.course.elevation_at(station_m));
}

/// Survey points and changes of pipe on a limb, from the washout outwards up to the neighbouring high point.
std::vector<SurveyPoint> points_outwards(const Line& line, double washout_m, bool forward) {
  std::vector<double> stations{washout_m};
  const auto beyond = [&](double s) { return forward ? s > washout_m : s < washout_m; };
  for (const SurveyPoint& point : line.survey)
    if (beyond(point.station.metres())) stations.push_back(point.station.metres());
  for (const network::FittedPipe& laid : line.pipes)
    if (beyond(laid.from.metres()) && laid.from < line.survey.back().station &&
        laid.from > line.survey.front().station)
      stations.push_back(laid.from.metres());
  std::sort(stations.begin(), stations.end());
  if (!forward) std::reverse(stations.begin(), stations.end());
  stations.erase(std::unique(stations.begin(), stations.end()), stations.end());
  std::vector<SurveyPoint> points;
  bool rises = false;
  for (const double s : stations) {
    const SurveyPoint point{Length::metres(s), elevation_at(line, s)};
    if (!points.empty() && point.elevation > points.back().elevation) rises = true;
    if (rises && point.elevation < points.back().elevation) break;
    points.push_back(point);
  }
  return points;
}

double loss_between(const Line& line, double a_m, double b_m) {
  double loss = 0.0;
  for (const network::FittedPart& part : line.parts) {
    const double at = part.at.metres();
    // The loss of a reducing valve, or of a valve that is shut, means nothing here.
    if (at > std::min(a_m, b_m) && at <= std::max(a_m, b_m) && std::isfinite(part.k)) loss += part.k;
  }
  return loss;
}

class LimbBuilder {
 public:
  LimbBuilder(const System& system, const Line& line, double washout_m)
      : system_(system), line_(line), washout_m_(washout_m) {
    floor_m_ = elevation_at(line, washout_m).metres();
  }

  /// The limb on one side. Writes its end to `high` and adds what stays below the washout to `stays_m3`.
  Limb build(bool forward, SurveyPoint& high, double& stays_m3) const {
    const auto points = points_outwards(line_, washout_m_, forward);
    high = points.back();
    Limb limb;
    for (std::size_t i = 1; i < points.size(); ++i) add(limb, points[i - 1], points[i], stays_m3);
    if (limb.pieces.empty()) limb.always_full.clear();
    return limb;
  }

 private:
  void add(Limb& limb, const SurveyPoint& near, const SurveyPoint& far, double& stays_m3) const {
    const double low = near.elevation.metres() - floor_m_, top = far.elevation.metres() - floor_m_;
    LimbPiece whole = piece(near, far);
    if (top <= 0.0) {
      stays_m3 += whole.volume_m3();
      limb.always_full.push_back(whole);
      return;
    }
    // The part of the piece below the washout stays full.
    const double below = low < 0.0 ? -low / (top - low) : 0.0;
    if (below > 0.0) {
      LimbPiece wet = whole;
      wet.length_m *= below, wet.loss *= below;
      stays_m3 += wet.volume_m3();
      limb.always_full.push_back(wet);
    }
    whole.length_m *= 1.0 - below, whole.loss *= 1.0 - below;
    whole.bottom_m = std::max(low, 0.0);
    whole.top_m = top;
    limb.pieces.push_back(whole);
  }

  const pipes::Pipe& pipe_between(double a_m, double b_m) const {
    return line_.pipes[static_cast<std::size_t>(line_.course.pipe_at(0.5 * (a_m + b_m)))].pipe;
  }

  LimbPiece piece(const SurveyPoint& near, const SurveyPoint& far) const {
    const double a = near.station.metres(), b = far.station.metres();
    const pipes::Pipe& pipe = pipe_between(a, b);
    const losses::PipeFriction friction(system_.friction(), pipe.bore.metres(), pipe.roughness.metres(),
                                        pipe.hazen_c, system_.site().water.kinematic_viscosity_m2s);
    return {0.0,
            0.0,
            network::slope_length_m(line_.along, std::abs(b - a), (far.elevation - near.elevation).metres()),
            friction.area_m2(),
            loss_between(line_, a, b),
            friction};
  }

  const System& system_;
  const Line& line_;
  double washout_m_, floor_m_ = 0.0;
};

}  // namespace

std::optional<DrainDown> drain_down(const System& system, const std::string& washout,
                                    const DrainOptions& options) {
  for (const Line& line : system.lines())
    for (const network::FittedPart& part : line.parts) {
      if (part.kind != PartKind::washout || part.name != washout) continue;
      DrainDown out;
      out.pipeline = line.name;
      out.washout = washout;
      out.station_m = part.at.metres();
      out.bore_m =
          options.bore_m > 0.0
              ? options.bore_m
              : line.pipes[static_cast<std::size_t>(line.course.pipe_at(out.station_m))].pipe.bore.metres();
      out.end_m = 0.5 * out.bore_m;
      const LimbBuilder builder(system, line, out.station_m);
      SurveyPoint back, ahead;
      const std::vector<Limb> limbs{builder.build(false, back, out.stays_m3),
                                    builder.build(true, ahead, out.stays_m3)};
      out.from_m = back.station.metres();
      out.to_m = ahead.station.metres();
      out.height_m = (std::max(back.elevation, ahead.elevation) - elevation_at(line, out.station_m)).metres();
      out.draining = drain(limbs, out.bore_m, options.cd, out.end_m);
      return out;
    }
  return std::nullopt;
}

std::vector<std::string> washouts_of(const System& system) {
  std::vector<std::string> names;
  for (const Line& line : system.lines())
    for (const network::FittedPart& part : line.parts)
      if (part.kind == PartKind::washout && !part.name.empty()) names.push_back(part.name);
  return names;
}

}  // namespace runnel::filling
