#include "runnel/network/corner.h"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <unordered_map>

#include "runnel/springs/bucket_yield.h"

namespace runnel::network {
namespace {

/// How much thicker than its minimum a wall may be; sources at `bore_range`.
double wall_tolerance_m(const pipes::Pipe& pipe) {
  const double wall_m = pipe.wall.metres();
  const std::string_view standard = pipe.standard;
  if (!standard.starts_with("ISO") && !standard.starts_with("EN")) return 0.12 * wall_m;
  const double tenths = (0.1 * wall_m + 0.0001) / 0.0001;
  return std::ceil(tenths - 1e-9) * 0.0001;
}

bool metal(const pipes::Pipe& pipe) {
  return pipe.material.find("steel") != std::string::npos || pipe.material.find("iron") != std::string::npos;
}

/// Colder water is more viscous. Its vapour pressure and weight stay: they would favour the line.
void cool(Site& site, double by_c) {
  const double here_c = std::clamp(site.water.temperature_c, water::coldest_c, water::warmest_c);
  const double there_c = std::max(here_c - by_c, water::coldest_c);
  const auto viscosity = [](double c) { return water::dynamic_viscosity_pas(c) / water::density_kgm3(c); };
  site.water.kinematic_viscosity_m2s *= viscosity(there_c) / viscosity(here_c);
}

bool from_bucket_tests(const Box& box) { return box.bucket_tests && !box.bucket_tests->times.empty(); }

/// Takes a yield from bucket tests to one end of its interval. A yield set by a setting is not from them.
void take_yield(Box& box, Corner corner) {
  if (!from_bucket_tests(box)) return;
  const springs::BucketYield tests = springs::bucket_yield(box.bucket_tests->volume, box.bucket_tests->times);
  if (std::abs(tests.mean.si() - box.yield.si()) > 1e-9 * box.yield.si()) return;
  const double time_s = box.bucket_tests->volume.si() / tests.mean.si();
  const double few = tests.tests < springs::least_tests ? springs::few_tests_off : 0.0;
  const double off = std::max(few, springs::read_within_s / time_s);
  const springs::YieldInterval interval =
      tests.interval.value_or(springs::YieldInterval{tests.mean, tests.mean});
  if (corner == Corner::bad) box.yield = std::max(Flow{}, std::min(interval.low, tests.mean * (1.0 - off)));
  if (corner == Corner::good && interval.high) box.yield = std::max(*interval.high, tests.mean * (1.0 + off));
}

/// Moves a model's elevations by the errors of its surveys, `sign` times.
class SurveyShift {
 public:
  SurveyShift(Model& model, double sign) : model_(model), sign_(sign) {
    for (const Pipeline& line : model_.pipelines) {
      Ends& from = ends_[line.from];
      Ends& to = ends_[line.to];
      from.left = to.reached = true;
      for (Ends* place : {&from, &to})
        if (line.survey_error) place->error_m = std::max(place->error_m, line.survey_error->metres());
    }
    for (const Box& box : model_.boxes) ends_[box.name].store = true;
    for (const Tank& tank : model_.tanks) ends_[tank.name].store = true;
  }

  void run() {
    for (Pipeline& line : model_.pipelines) {
      auto& points = line.survey;
      const Length inner = Length::metres(line.survey_error ? sign_ * line.survey_error->metres() : 0.0);
      for (std::size_t i = 1; i + 1 < points.size(); ++i) points[i].elevation = points[i].elevation + inner;
      points.front().elevation = points.front().elevation + shift(line.from);
      points.back().elevation = points.back().elevation + shift(line.to);
      if (!line.float_valve) continue;
      line.float_valve->shuts_at = line.float_valve->shuts_at + shift(line.to);
      line.float_valve->opens_at = line.float_valve->opens_at + shift(line.to);
    }
    each_place(model_, [&](auto& place) {
      const Length by = shift(place.levelled_with());
      place.each_elevation([&](Length& elevation) { elevation = elevation + by; });
    });
  }

 private:
  struct Ends {
    double error_m = 0.0;
    bool left = false, reached = false, store = false;
  };
  Length shift(const std::string& place) {
    const Ends& at = ends_[place];
    if (at.store && at.left == at.reached) return Length{};
    return Length::metres((at.store && at.left ? -sign_ : sign_) * at.error_m);
  }

  Model& model_;
  double sign_;
  std::unordered_map<std::string, Ends> ends_;
};

bool states_survey_error(const Model& model) {
  return std::any_of(model.pipelines.begin(), model.pipelines.end(), [](const Pipeline& line) {
    return line.survey_error && line.survey_error->metres() > 0.0;
  });
}

/// An opening as wide as its pipe shrinks with it.
void fit_openings(Model& model) {
  for (Outlet& outlet : model.outlets) {
    if (!(outlet.opening.metres() > 0.0)) continue;
    for (const Pipeline& line : model.pipelines)
      if (line.to == outlet.name) outlet.opening = std::min(outlet.opening, line.pipes.back().pipe.bore);
  }
}

}  // namespace

BoreRange bore_range(const pipes::Pipe& pipe) {
  const double bore_m = pipe.bore.metres(), wall_m = pipe.wall.metres();
  double less_m = 0.0, more_m = 0.0;
  if (wall_m > 0.0 && pipe.bore_convention == pipes::BoreConvention::outside_less_two_minimum_walls)
    less_m = 2.0 * wall_tolerance_m(pipe);
  if (wall_m > 0.0 && pipe.bore_convention == pipes::BoreConvention::average)
    less_m = more_m = wall_tolerance_m(pipe);
  return {Length::metres(bore_m - less_m), Length::metres(bore_m + more_m)};
}

pipes::Pipe aged(pipes::Pipe pipe, const Unknowns& unknown) {
  pipe.roughness = std::max(pipe.roughness, metal(pipe) ? unknown.aged_metal : unknown.aged_plastic);
  if (pipe.hazen_c > 0.0)
    pipe.hazen_c = std::min(pipe.hazen_c, metal(pipe) ? unknown.aged_metal_c : unknown.aged_plastic_c);
  return pipe;
}

bool has_unknown(const Model& model, bool Unknowns::*which) {
  if (which == &Unknowns::yield)
    return std::any_of(model.boxes.begin(), model.boxes.end(), from_bucket_tests);
  return which != &Unknowns::survey || states_survey_error(model);
}

Checked<System> at_corner(const System& system, Corner corner, const Unknowns& unknown) {
  const bool bad = corner == Corner::bad;
  Model model = system.model();
  if (unknown.transition) model.friction.worse_transition = bad;
  if (unknown.temperature && bad) cool(model.site, unknown.colder_by_c);
  for (Pipeline& line : model.pipelines)
    for (LaidPipe& laid : line.pipes) {
      const BoreRange range = bore_range(laid.pipe);
      if (unknown.bore) laid.pipe.bore = bad ? range.least : range.greatest;
      if (unknown.roughness && bad) laid.pipe = aged(laid.pipe, unknown);
    }
  if (unknown.bore && bad) fit_openings(model);
  if (unknown.yield)
    for (Box& box : model.boxes) take_yield(box, corner);
  if (unknown.survey && states_survey_error(model)) SurveyShift(model, bad ? 1.0 : -1.0).run();
  return resolve(std::move(model));
}

}  // namespace runnel::network
