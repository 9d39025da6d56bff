#include "runnel/sizing/lane_lines.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"
#include "runnel/losses/law_table.h"
#include "runnel/network/corner.h"
#include "runnel/network/place_state.h"
#include "runnel/sizing/draws.h"
#include "runnel/sizing/unknown_ranges.h"

namespace runnel::sizing {
namespace {

using steady::LinePlan;

/// Sets the survey point at or before a station, and the share of the way to the next.
void put_between(const network::Line& line, LanePoint& point) {
  const auto& survey = line.survey;
  std::size_t i = 0;
  while (i + 2 < survey.size() && survey[i + 1].station.metres() <= point.station_m) ++i;
  const double from = survey[i].station.metres(), to = survey[i + 1].station.metres();
  point.before = i;
  point.share = to > from ? std::clamp((point.station_m - from) / (to - from), 0.0, 1.0) : 0.0;
}

/// What steady/assemble.cpp plans along a line, forward.
LaneLine line_of(const network::Line& line, const LinePlan& plan) {
  LaneLine out;
  double lost = plan.entrance_s2m5;
  for (std::size_t i = 0; i < plan.vertices.size(); ++i) {
    const steady::Vertex& vertex = plan.vertices[i];
    const network::CoursePoint& here = plan.course.points()[i];
    const bool first = i == 0, last = i + 1 == plan.vertices.size();
    lost += vertex.local_forward_s2m5;
    LanePoint point{here.station_m, here.elevation_m, vertex.floor_m,
                    lost + (last    ? plan.exit_s2m5
                            : first ? vertex.behind_s2m5
                                    : vertex.over_floor_s2m5(true))};
    put_between(line, point);
    out.points.push_back(point);
  }
  out.local_s2m5 = lost + plan.exit_s2m5;
  return out;
}

bool fits(const LinePlan& plan) {
  return !plan.shut && plan.friction.size() == 1 && !plan.friction.front().worse_transition() &&
         std::none_of(plan.vertices.begin(), plan.vertices.end(),
                      [](const auto& vertex) { return vertex.holds_m.has_value(); });
}

}  // namespace

std::unique_ptr<LaneLines> LaneLines::of(const network::Model& model, const network::System& system,
                                         const steady::Assembly& assembly) {
  std::unique_ptr<LaneLines> lines(new LaneLines(model, system));
  if (!lines->add_lines(assembly)) return nullptr;
  lines->plan_walks();
  return lines;
}

bool LaneLines::add_lines(const steady::Assembly& assembly) {
  if (!losses::law_row(system_.friction().law).in_lanes) return false;
  hazen_ = system_.friction().law == losses::Law::hazen_williams;
  for (std::size_t l = 0; l < system_.lines().size(); ++l) {
    const network::Line& line = system_.lines()[l];
    const LinePlan& plan = assembly.plans[l];
    if (!fits(plan) || assembly.kernel.links[at(assembly.line_link[l])].shut) return false;
    lines_.push_back(line_of(line, plan));
    if (network::open_water(system_.kind(line.from)))
      lines_.back().start_axis_m = plan.course.points().front().elevation_m;
    lines_.back().first_point = points_;
    points_ += lines_.back().points.size();
  }
  return true;
}

void LaneLines::plan_walks() {
  std::vector<bool> known(at(system_.places()), false), walked(lines_.size(), false);
  for (std::size_t b = 0; b < system_.boxes().size(); ++b)
    known[b] = std::none_of(system_.lines().begin(), system_.lines().end(),
                            [&](const network::Line& line) { return line.to == static_cast<int>(b); });
  for (std::size_t round = 0; round < lines_.size(); ++round) {
    std::size_t next = lines_.size();
    for (std::size_t l = 0; l < lines_.size(); ++l)
      if (!walked[l] && (next == lines_.size() ||
                         (known[at(system_.lines()[l].from)] && !known[at(system_.lines()[next].from)])))
        next = l;
    walked[next] = true;
    const int from = system_.lines()[next].from, to = system_.lines()[next].to;
    Walk walk{next, from, to, !known[at(from)], false};
    known[at(from)] = true;
    walk.sets_to = !known[at(to)];
    known[at(to)] = true;
    walks_.push_back(walk);
  }
}

std::pair<double, double> LaneLines::range(const Unknown& unknown) const {
  const pipes::Pipe& pipe = model_.pipelines[unknown.index].pipes.front().pipe;
  if (unknown.kind == Unknown::Kind::bore) {
    const network::BoreRange bore = network::bore_range(pipe);
    return {bore.least.metres(), bore.greatest.metres()};
  }
  if (hazen_) return {pipe.hazen_c, network::aged(pipe).hazen_c};
  return {pipe.roughness.metres(), network::aged(pipe).roughness.metres()};
}

void LaneLines::draw(const std::vector<Unknown>& unknowns, std::uint64_t seed, std::uint64_t number,
                     LaneDraw& out) const {
  for (auto* lines : {&out.in.bore_m, &out.in.length_m, &out.in.rough})
    lines->resize(lines_.size() * together);
  out.lift_m.assign(at(system_.places()) * together, 0.0);
  out.rise_m.assign(points_ * together, 0.0);
  out.before_m.resize(points_ * together);
  out.yield_m3s.resize(system_.boxes().size() * together);
  for (std::size_t l = 0; l < lines_.size(); ++l) {
    const pipes::Pipe& pipe = model_.pipelines[l].pipes.front().pipe;
    std::fill_n(out.in.bore_m.begin() + static_cast<std::ptrdiff_t>(l * together), together,
                pipe.bore.metres());
    std::fill_n(out.in.rough.begin() + static_cast<std::ptrdiff_t>(l * together), together,
                hazen_ ? pipe.hazen_c : pipe.roughness.metres());
  }
  for (std::size_t b = 0; b < system_.boxes().size(); ++b)
    std::fill_n(out.yield_m3s.begin() + static_cast<std::ptrdiff_t>(b * together), together,
                system_.boxes()[b].yield.si());
  std::vector<bool> surveys(lines_.size(), false);
  bool any_survey = false;
  for (const Unknown& unknown : unknowns) {
    const std::size_t i = unknown.index;
    const auto each = [&](std::vector<double>& all, const auto& value) {
      for (std::size_t lane = 0; lane < together; ++lane)
        all[i * together + lane] = value(Draws(seed, number * together + lane, unknown));
    };
    if (unknown.kind == Unknown::Kind::survey) {
      surveys[i] = any_survey = true;
    } else if (unknown.kind == Unknown::Kind::yield) {
      const YieldSpread spread(model_.boxes[i]);
      each(out.yield_m3s, [&](Draws draws) { return spread.drawn_m3s(draws); });
    } else {
      const auto [from, to] = range(unknown);
      const double first = from, length = to - from;
      each(unknown.kind == Unknown::Kind::bore ? out.in.bore_m : out.in.rough,
           [&](Draws draws) { return first + draws.even() * length; });
    }
  }
  if (any_survey)
    for (std::size_t lane = 0; lane < together; ++lane)
      survey(surveys, seed, number * together + lane, lane, out);
  lengths(out);
}

/// Walks as chance.cpp does: the start keeps its error, the far end drifts, and each point scatters.
void LaneLines::survey(const std::vector<bool>& unknown, std::uint64_t seed, std::uint64_t sample,
                       std::size_t lane, LaneDraw& out) const {
  std::vector<double> rise;
  for (const Walk& walk : walks_) {
    const network::Line& line = system_.lines()[walk.line];
    const double at_start = out.lift_m[at(walk.from) * together + lane];
    double& at_end = out.lift_m[at(walk.to) * together + lane];
    rise.assign(line.survey.size(), 0.0);
    const bool draws_any = unknown[walk.line];
    Draws draws(seed, sample, {Unknown::Kind::survey, walk.line});
    const double deviation = draws_any ? survey_deviation_m(model_.pipelines[walk.line]) : 0.0;
    const double drift = draws_any ? deviation * draws.normal() : 0.0;
    if (walk.sets_to) at_end = at_start + drift;
    const double first = line.survey.front().station.metres(), last = line.survey.back().station.metres();
    for (std::size_t i = 0; i < rise.size(); ++i) {
      const double along = (line.survey[i].station.metres() - first) / (last - first);
      const bool scatters = draws_any && i > 0 && i + 1 < rise.size();
      rise[i] = at_start + along * (at_end - at_start) + (scatters ? deviation * draws.normal() : 0.0);
    }
    const LaneLine& points = lines_[walk.line];
    for (std::size_t v = 0; v < points.points.size(); ++v) {
      const LanePoint& point = points.points[v];
      out.rise_m[(points.first_point + v) * together + lane] =
          rise[point.before] + point.share * (rise[point.before + 1] - rise[point.before]);
    }
  }
  for (std::size_t o = 0; o < system_.outlets().size(); ++o)
    if (const int on = system_.hangs_on(static_cast<int>(o)); on >= 0)
      out.lift_m[at(system_.outlet_place(static_cast<int>(o))) * together + lane] =
          out.lift_m[at(on) * together + lane];
}

void LaneLines::lengths(LaneDraw& out) const {
  for (std::size_t l = 0; l < lines_.size(); ++l) {
    const network::Line& line = system_.lines()[l];
    const LaneLine& points = lines_[l];
    const double* rise = out.rise_m.data() + points.first_point * together;
    double* before = out.before_m.data() + points.first_point * together;
    std::fill_n(before, together, 0.0);
    for (std::size_t v = 0; v + 1 < points.points.size(); ++v) {
      const LanePoint &from = points.points[v], &to = points.points[v + 1];
      for (std::size_t lane = 0; lane < together; ++lane) {
        const double up =
            to.elevation_m - from.elevation_m + rise[(v + 1) * together + lane] - rise[v * together + lane];
        const double run = to.station_m - from.station_m;
        const double slope = line.along == network::Along::pipe ? run : std::sqrt(run * run + up * up);
        before[(v + 1) * together + lane] = before[v * together + lane] + slope;
      }
    }
    const double* whole = before + (points.points.size() - 1) * together;
    std::copy_n(whole, together, out.in.length_m.begin() + static_cast<std::ptrdiff_t>(l * together));
  }
}

}  // namespace runnel::sizing
