#include "runnel/air/risk_points.h"

#include <algorithm>
#include <cmath>

#include "runnel/air/descent_index.h"
#include "runnel/air/restart.h"

namespace runnel::air {
namespace {

// The solver closes heads to 1e-9 m, and a part-full reach lies on its floor to within that, so a millimetre
// counts as nothing.
constexpr double noise_m = 1e-3;

struct Sample {
  double station_m = 0.0;
  double head_m = 0.0;
};

/// Runs of neighbouring points that hold water, including the refill stations.
std::vector<std::vector<Sample>> wet_runs(const steady::LineState& run) {
  std::vector<std::vector<Sample>> runs(1);
  const bool backward = run.flow_m3s < 0.0;
  for (std::size_t i = 0; i < run.points.size(); ++i) {
    const steady::LinePoint& p = run.points[i];
    if (!p.pressure_head_m) {
      runs.emplace_back();
      continue;
    }
    runs.back().push_back({p.station_m, *p.pressure_head_m});
    if (i >= run.reaches.size() || !run.reaches[i].refill_station_m) continue;
    const std::size_t upper = backward ? i + 1 : i;
    if (const auto head = run.points[upper].pressure_head_m)
      runs.back().push_back({*run.reaches[i].refill_station_m, *head});
  }
  return runs;
}

/// Where the head between two samples crosses a threshold.
double crossing_m(const Sample& a, const Sample& b, double threshold_m) {
  const double share = (threshold_m - a.head_m) / (b.head_m - a.head_m);
  return a.station_m + share * (b.station_m - a.station_m);
}

/// Maximal stretches where the head is below a threshold, with the lowest place of each.
std::vector<RiskPoint> below(const steady::LineState& run, double threshold_m) {
  std::vector<RiskPoint> found;
  for (const std::vector<Sample>& samples : wet_runs(run)) {
    bool open = false;
    for (std::size_t i = 0; i < samples.size(); ++i) {
      const Sample& here = samples[i];
      const bool under = here.head_m < threshold_m;
      if (under && !open) {
        RiskPoint point;
        point.from_m = i > 0 ? crossing_m(samples[i - 1], here, threshold_m) : here.station_m;
        found.push_back(point);
      }
      if (!under && open) found.back().to_m = crossing_m(samples[i - 1], here, threshold_m);
      open = under;
      if (!under) continue;
      RiskPoint& point = found.back();
      point.to_m = here.station_m;
      if (!point.clearance_m || here.head_m < *point.clearance_m) {
        point.clearance_m = here.head_m;
        point.worst_m = here.station_m;
      }
    }
  }
  found.erase(std::remove_if(found.begin(), found.end(),
                             [](const RiskPoint& p) { return p.to_m - p.from_m <= noise_m; }),
              found.end());
  return found;
}

const Crest* crest_in(const RiskPoint& point, const std::vector<Crest>& crests) {
  for (const Crest& c : crests)
    if (c.station_m >= point.from_m - noise_m && c.station_m <= point.to_m + noise_m) return &c;
  return nullptr;
}

/// Where air in a stretch goes: to a crest within it, else to the top of the descent it lies on; none if it
/// lies on a rise.
std::optional<Top> top_of(const RiskPoint& point, const Crest* crest, const DescentIndex& descents) {
  if (crest) return crest->vented ? Top::vented_crest : Top::bare_crest;
  const double middle_m = 0.5 * (point.from_m + point.to_m);
  for (const Top top : {Top::bare_crest, Top::vented_crest, Top::source})
    if (descents.covers(top, middle_m)) return top;
  return std::nullopt;
}

/// Whether a stretch begins or ends at an open end of the line, by which its air can leave.
bool touches_open_end(const network::System& system, const network::Line& line, const RiskPoint& point) {
  const bool start = point.from_m <= line.survey.front().station.metres() + noise_m;
  const bool end = point.to_m >= line.survey.back().station.metres() - noise_m;
  const auto open = [&](int place) { return system.kind(place) != network::PlaceKind::joint; };
  return (start && open(line.from)) || (end && open(line.to));
}

bool runs_part_full(const steady::LineState& run, const RiskPoint& point) {
  return std::any_of(run.reaches.begin(), run.reaches.end(), [&](const steady::Reach& r) {
    const bool part = r.state == steady::ReachState::part_full || r.state == steady::ReachState::mixed;
    return part && r.to_m > point.from_m + noise_m && r.from_m < point.to_m - noise_m;
  });
}

void grade_suction(RiskPoint& point, double boils_m) {
  const double under_m = -*point.clearance_m;
  point.kind = RiskKind::sub_atmospheric;
  point.limit_m = -air_comes_out_m;
  if (under_m >= boils_m - noise_m) {
    point.risk = Risk::high;
    point.reason = StretchReason::boils;
  } else if (under_m > air_comes_out_m) {
    point.risk = Risk::high;
    point.reason = StretchReason::much_air_comes_out;
  } else {
    point.risk = Risk::moderate;
    point.reason = StretchReason::some_air_comes_out;
  }
  point.remedy = StretchRemedy::lower_pipe;
}

void grade_near(RiskPoint& point, const steady::LineState& run, std::optional<Top> top, double wanted_m) {
  point.limit_m = wanted_m;
  const bool part = runs_part_full(run, point);
  point.kind = part ? RiskKind::part_full : RiskKind::near_grade;
  if (top == Top::vented_crest) {
    point.risk = Risk::low;
    point.reason = part ? StretchReason::part_full_vented : StretchReason::near_grade_vented;
    return;
  }
  point.risk = Risk::moderate;
  point.reason = part ? StretchReason::part_full_unvented : StretchReason::near_grade_line;
  point.remedy = part ? StretchRemedy::air_valve_at_top : StretchRemedy::deeper_or_wider;
}

/// The profile with a stretch tilted within the error: its ends are moved in opposite directions so that it
/// runs the other way, and the points between move with them.
Profile bent(const Profile& profile, int line, double from_m, double to_m, double error_m, bool end_up) {
  std::vector<network::Course> courses;
  for (const network::Passage::Leg& leg : profile.points.passage().legs()) courses.push_back(leg.course);
  const auto own = static_cast<std::size_t>(line);
  const auto& points = profile.points.passage().legs()[own].course.points();
  courses[own] = courses[own].moved([&](std::size_t i) {
    const double station_m = points[i].station_m;
    if (station_m < from_m || station_m > to_m) return points[i].elevation_m;
    const double share = (station_m - from_m) / (to_m - from_m);
    return points[i].elevation_m + error_m * (2.0 * share - 1.0) * (end_up ? 1.0 : -1.0);
  });
  Profile changed = profile;
  changed.points = profile.points.relaid(std::move(courses));
  return changed;
}

/// The budget for starting ways again, in points. Once it is used up, stretches are no longer tilted but
/// reported without that.
constexpr std::size_t most_points_bent = 2'000'000;  // about a second

void grade_uncertain(RiskPoint& point, const network::Line& line, const std::vector<Way>& ways,
                     double error_m, bool end_up, std::size_t& left) {
  bool judged = false;
  for (const Way& way : ways) {
    if (left < way.profile.points.size()) {
      point.risk = std::max(point.risk, Risk::moderate);
      break;
    }
    const auto& names = way.profile.pipelines;
    const auto at = std::find(names.begin(), names.end(), line.name);
    if (at == names.end()) continue;
    left -= way.profile.points.size();
    const Profile worse =
        bent(way.profile, static_cast<int>(at - names.begin()), point.from_m, point.to_m, error_m, end_up);
    const StartUp after = harder_start(worse, way.conditions);
    const double rise_m = after.uncompressed_level_m - way.start.uncompressed_level_m;
    point.level_rise_m = std::max(point.level_rise_m.value_or(rise_m), rise_m);
    const bool pocket = after.pockets.size() > way.start.pockets.size();
    const Risk risk = after.verdict > way.start.verdict ? Risk::high : pocket ? Risk::moderate : Risk::low;
    if (risk < point.risk || (risk == point.risk && judged)) continue;
    judged = true;
    point.risk = risk;
    point.reason = risk == Risk::high       ? StretchReason::back_does_not_start
                   : risk == Risk::moderate ? StretchReason::back_one_pocket_more
                                            : StretchReason::back_little_changes;
  }
  if (judged) return;
  point.reason = StretchReason::may_run_back;
}

}  // namespace

std::vector<RiskPoint> stretches_at_risk(const network::System& system, const network::Line& line,
                                         const steady::LineState& run, const std::vector<Crest>& crests,
                                         const std::vector<CrestDescent>& descents,
                                         double wanted_clearance_m) {
  std::vector<RiskPoint> found;
  for (RiskPoint& point : below(run, -noise_m)) {
    grade_suction(point, system.site().vapour_limit_m());
    point.crest_inside = crest_in(point, crests) != nullptr;
    found.push_back(point);
  }
  if (!(std::abs(run.flow_m3s) > 0.0)) return found;
  const DescentIndex over(descents);
  for (RiskPoint& point : below(run, wanted_clearance_m)) {
    const Crest* crest = crest_in(point, crests);
    const std::optional<Top> top = top_of(point, crest, over);
    const bool harmless = !crest && (top == Top::source || touches_open_end(system, line, point));
    if (*point.clearance_m < -noise_m || harmless) continue;
    point.crest_inside = crest != nullptr;
    grade_near(point, run, top, wanted_clearance_m);
    found.push_back(point);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const RiskPoint& a, const RiskPoint& b) { return a.from_m < b.from_m; });
  return found;
}

std::vector<RiskPoint> uncertain_stretches(const network::Line& line, const std::vector<Way>& ways) {
  std::vector<RiskPoint> found;
  if (!line.survey_error || !line.surveyed) return found;
  const Profile profile = profile_of(line);
  const double error_m = line.survey_error->metres();
  std::size_t left = most_points_bent;
  for (const UncertainGrade& grade : uncertain_grades(profile, error_m)) {
    RiskPoint point;
    point.kind = RiskKind::uncertain_grade;
    point.from_m = profile.points[static_cast<std::size_t>(grade.leg.first)].own_station_m;
    point.to_m = profile.points[static_cast<std::size_t>(grade.leg.last)].own_station_m;
    point.worst_m = point.from_m;
    point.rise_m = grade.rise_m;
    point.limit_m = grade.tolerance_m;
    point.remedy = StretchRemedy::level_again;
    grade_uncertain(point, line, ways, error_m, grade.rise_m <= 0.0, left);
    found.push_back(point);
  }
  return found;
}

}  // namespace runnel::air
