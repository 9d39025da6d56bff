// Pipelines: survey, pipes, parts.
#include <cmath>

#include "runnel/losses/law_table.h"
#include "runnel/network/complaints.h"
#include "runnel/network/course.h"

namespace runnel::network {

namespace {

/// Between two points taped along the pipe, the rise cannot exceed the length of pipe.
void check_reach(const Pipeline& line, std::size_t i, Complaints& complaints) {
  const double step_m = (line.survey[i].station - line.survey[i - 1].station).metres();
  const double rise_m = (line.survey[i].elevation - line.survey[i - 1].elevation).metres();
  if (line.along != Along::pipe || std::abs(rise_m) <= step_m * (1.0 + 1e-9)) return;
  complaints.error("shorter-than-fall", line.mark, "survey.points." + std::to_string(i) + ".1",
                   "pipeline " + quoted(line.name) +
                       " has {0} of pipe between two points that differ by {1} in elevation: it cannot reach",
                   {{Kind::length, step_m}, {Kind::head, std::abs(rise_m)}},
                   "these stations count along the pipe; on a map they would be `along: level`");
}

/// Ground steeper than one in one is a cliff: a warning, once per line. Common practice, no source.
void check_steepness(const Pipeline& line, Complaints& complaints) {
  for (std::size_t i = 1; i < line.survey.size() && line.surveyed; ++i) {
    const double step_m = (line.survey[i].station - line.survey[i - 1].station).metres();
    const double rise_m = std::abs((line.survey[i].elevation - line.survey[i - 1].elevation).metres());
    const double plan_m = line.along == Along::level ? step_m
                          : rise_m < step_m          ? std::sqrt(step_m * step_m - rise_m * rise_m)
                                                     : 0.0;
    constexpr double least_m = 3.0;  // a riser at a tank or a drop at a box is lower
    if (rise_m <= std::max(plan_m, least_m)) continue;
    complaints.warning("steeper-than-built", line.mark, "survey.points." + std::to_string(i) + ".1",
                       "pipeline " + quoted(line.name) + " goes up or down by {0} in {1} of pipe",
                       {{Kind::head, rise_m}, {Kind::length, std::hypot(rise_m, plan_m)}},
                       "look at both points again; if the ground is like that, anchor the pipe");
    return;
  }
}

/// A point far below both its neighbours is a ravine that no such line crosses, or a slip. Common practice,
/// no source.
void check_dips(const Pipeline& line, Complaints& complaints) {
  constexpr double deepest_m = 150.0;
  const auto& points = line.survey;
  double before_m = points.front().elevation.metres();
  std::vector<double> after_m(points.size(), points.back().elevation.metres());
  for (std::size_t i = points.size() - 1; i-- > 0;)
    after_m[i] = std::max(after_m[i + 1], points[i].elevation.metres());
  for (std::size_t i = 1; i + 1 < points.size(); ++i) {
    const double here_m = points[i].elevation.metres();
    const double depth_m = std::min(before_m, after_m[i]) - here_m;
    before_m = std::max(before_m, here_m);
    const bool lowest = here_m <= points[i + 1].elevation.metres();
    if (depth_m <= deepest_m || !lowest) continue;
    complaints
        .warning("deeper-than-built", line.mark, "survey.points." + std::to_string(i) + ".1",
                 "pipeline " + quoted(line.name) + " dips to {0}, {1} below the ground on both sides",
                 {{Kind::elevation, here_m}, {Kind::head, depth_m}},
                 "look at the elevation and its unit again")
        .where.pipeline = line.name;
    return;
  }
}

/// A gap in a survey shows in the taped length of pipe. A tape over rough ground may be off by two in a
/// hundred: common practice, no source.
void check_taped(const Pipeline& line, Complaints& complaints) {
  if (!line.taped_length ||
      !complaints.positive(line.mark, "taped_length", {Kind::length, line.taped_length->metres()},
                           "the taped length of pipeline " + quoted(line.name), measure_bounds_m))
    return;
  double surveyed_m = 0.0;
  for (std::size_t i = 1; i < line.survey.size(); ++i)
    surveyed_m += slope_length_m(line.along, (line.survey[i].station - line.survey[i - 1].station).metres(),
                                 (line.survey[i].elevation - line.survey[i - 1].elevation).metres());
  const double taped_m = line.taped_length->metres();
  if (std::abs(surveyed_m - taped_m) <= 0.02 * taped_m) return;
  complaints
      .warning("survey-and-tape-differ", line.mark, "taped_length",
               "pipeline " + quoted(line.name) + " was taped as {0}, but its survey makes {1} of pipe",
               {{Kind::length, taped_m}, {Kind::length, surveyed_m}},
               "look for a point that was left out, or for a unit or a station that is wrong")
      .where.pipeline = line.name;
}

void check_survey(const Pipeline& line, Complaints& complaints) {
  const std::string of = " of pipeline " + quoted(line.name);
  for (std::size_t i = 0; i < line.survey.size(); ++i) {
    const SurveyPoint& point = line.survey[i];
    const std::string member = "survey.points." + std::to_string(i);
    if (!complaints.on_earth(line.mark, member + ".1", point.elevation, "a surveyed elevation" + of)) return;
    if (std::abs(point.station.metres()) > farthest_station_m) {
      complaints.error("absurd-figure", line.mark, line.surveyed ? member + ".0" : std::string("length"),
                       "a station" + of + " is {0}; more than {1} cannot be meant",
                       {{Kind::length, point.station.metres()}, {Kind::length, farthest_station_m}},
                       "check the unit and the powers of ten");
      return;
    }
    if (i == 0) continue;
    const double step_m = (point.station - line.survey[i - 1].station).metres();
    if (step_m >= least_step_m) {
      check_reach(line, i, complaints);
      continue;
    }
    if (step_m > 0.0) {
      complaints.error("absurd-figure", line.mark, member + ".0",
                       "two stations" + of + " are only {0} apart, which no tape can tell from nothing",
                       {{Kind::bore, step_m}}, "leave one of the two points out");
      return;
    }
    complaints.error(
        "stations-not-rising", line.mark, member + ".0",
        "the stations" + of + " must rise: {1} comes after {0}",
        {{Kind::length, line.survey[i - 1].station.metres()}, {Kind::length, point.station.metres()}},
        "a station is the distance along the ground from the start of the line");
    return;
  }
  check_steepness(line, complaints);
  check_dips(line, complaints);
  check_taped(line, complaints);
  if (line.survey_error)
    complaints.not_negative(line.mark, "survey_error", {Kind::length, line.survey_error->metres()},
                            "the survey error" + of, {0.0, highest_ground_m});
}

void check_pipe(const Model& system, const Pipeline& line, const LaidPipe& laid, Complaints& complaints) {
  const pipes::Pipe& pipe = laid.pipe;
  const std::string of = " of the pipe in " + quoted(line.name);
  complaints.positive(laid.mark, "bore", {Kind::bore, pipe.bore.metres()}, "the bore" + of, bore_bounds_m);
  complaints.not_negative(laid.mark, "roughness", {Kind::bore, pipe.roughness.metres()},
                          "the roughness" + of);
  if (pipe.roughness >= pipe.bore * 0.5 && pipe.bore > Length{})
    complaints.error("roughness-too-large", laid.mark, "roughness",
                     "the roughness" + of + " ({0}) is half its bore ({1}) or more",
                     {{Kind::bore, pipe.roughness.metres()}, {Kind::bore, pipe.bore.metres()}},
                     "new plastic pipe has about 0.0015 mm");
  if (pipe.hazen_c == 0.0 && losses::law_row(system.friction.law).needs_c)
    complaints.error("needs-c", laid.mark, "C",
                     "the Hazen-Williams law needs the C of the pipe in " + quoted(line.name), {},
                     "add C: 150 for smooth plastic, or less for old or steel pipe");
  // Tables of C run from about 60 (old tuberculated iron) to 155 (new plastic) [from memory].
  else if (pipe.hazen_c != 0.0 && !(pipe.hazen_c >= 50.0 && pipe.hazen_c <= 200.0))
    complaints.error("c-out-of-range", laid.mark, "C",
                     "C = {0}" + of + " is not a Hazen-Williams C; they run from 50 to 200",
                     {{Kind::number, pipe.hazen_c}}, "smooth plastic has about 150");
  if (laid.entry_loss)
    complaints.not_negative(laid.mark, "loss", {Kind::number, *laid.entry_loss},
                            "the loss of a change of pipe", loss_bounds);
}

void check_changes(const Pipeline& line, Complaints& complaints) {
  const Length start = line.survey.front().station, end = line.survey.back().station;
  for (std::size_t i = 1; i < line.pipes.size(); ++i) {
    const LaidPipe& laid = line.pipes[i];
    if (!complaints.whole(laid.mark)) continue;
    const Figure at{Kind::length, laid.from.metres()};
    if (laid.from <= start || laid.from >= end)
      complaints.error("part-outside", laid.mark, "at",
                       "the change of pipe at {0} is not between the start ({1}) and the end ({2}) of "
                       "pipeline " +
                           quoted(line.name),
                       {at, {Kind::length, start.metres()}, {Kind::length, end.metres()}});
    else if (laid.from < line.pipes[i - 1].from)
      complaints.error(
          "parts-out-of-order", laid.mark, "at",
          "parts stand in order from the start of a line, but this pipe at {0} follows one at {1}",
          {at, {Kind::length, line.pipes[i - 1].from.metres()}});
    else if (laid.from == line.pipes[i - 1].from)
      complaints.error("two-pipes-at-once", laid.mark, "at",
                       "two changes of pipe stand at {0} on pipeline " + quoted(line.name), {at});
  }
}

void check_line(const Model& system, const Pipeline& line, Complaints& complaints) {
  for (const LaidPipe& laid : line.pipes)
    if (complaints.whole(laid.mark)) check_pipe(system, line, laid, complaints);
  if (!complaints.whole(line.mark)) return;
  const std::string of = " of pipeline " + quoted(line.name);
  if (line.pipes.empty())
    complaints.error("no-pipe", line.mark, "pipe", "pipeline " + quoted(line.name) + " has no pipe");
  if (line.survey.size() < 2) {
    complaints.error("short-survey", line.mark, "survey",
                     "the survey" + of + " needs at least two points: where it starts and where it ends");
    return;
  }
  check_survey(line, complaints);
  check_changes(line, complaints);
  complaints.not_negative(line.mark, "entrance_loss", {Kind::number, line.entrance_loss},
                          "the entrance loss" + of, loss_bounds);
  complaints.not_negative(line.mark, "exit_loss", {Kind::number, line.exit_loss}, "the exit loss" + of,
                          loss_bounds);
  validate_parts(system, line, complaints);
}

}  // namespace

void validate_lines(const Model& system, Complaints& complaints) {
  for (const Pipeline& line : system.pipelines) check_line(system, line, complaints);
}

}  // namespace runnel::network
