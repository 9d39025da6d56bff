// Pressures against what the pipe can stand, and where the water is under less pressure than the air.
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "runnel/base/constants.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/say_others.h"
#include "runnel/verdict/shutting.h"
#include "runnel/verdict/siphon_rules.h"

namespace runnel::verdict {
namespace {

constexpr Code static_above_rating_rule{
    "static-above-rating",
    "the pipe may burst when everything is shut",
    "With every tap and float valve shut the water stands still and presses with its full height. At the "
    "point named that is more than the pipe is rated for at this water temperature.",
    "A float valve shuts every night. A line that holds while it runs can burst while it rests.",
    "Take a pipe of a higher rating below that point, or put an open break-pressure box above it.",
    "static pressure must stay below the rating at every point [nrcs-430; found]"};

constexpr Code running_above_rating_rule{
    "running-above-rating",
    "the pipe may burst while the water runs",
    "At the point named the water presses harder while it runs than the pipe is rated for at this water "
    "temperature.",
    "Nothing need be shut for that: it is so all the time.",
    "Take a pipe of a higher rating there, or put an open break-pressure box above it.",
    "pressure must stay below the rating at every point [nrcs-430; found]"};

constexpr Code nothing_to_shut_rule{
    "nothing-to-shut",
    "a line in which water never stands",
    "No valve stands on the line, and what it ends at has no tap and no float valve.",
    "So the full height of the standing water never presses in it, and the pipe is judged by what runs.",
    "Write every valve and tap that will be there; a cap put on later lets the water stand.",
    "physics: water stands only before something that is shut"};

constexpr Code never_to_be_shut_rule{
    "never-to-be-shut",
    "a pipe that holds only while its end stays open",
    "Nothing is drawn that could shut the water off behind this pipe, so it is judged by what runs. If a "
    "tap, a valve, a plug or dirt ever shut it, the full height of the standing water would press there, "
    "and that is more than the pipe is rated for.",
    "Sooner or later somebody puts a tap on an open end, or a screen clogs. The pipe then bursts.",
    "Take a pipe of a higher rating, put an open break-pressure box above it, or see that nothing can ever "
    "shut its end.",
    "static pressure must stay below the rating at every point [nrcs-430; found]"};

constexpr Code static_above_72_percent_rule{
    "static-above-72-percent",
    "little is left for water hammer",
    "The standing pressure is below the rating, but above 72 % of it.",
    "A valve shut quickly adds a surge on top. Where that is not worked out, practice leaves 28 % for it.",
    "Take a stronger pipe, or work out the surge and make sure that valves close slowly.",
    "at most 72 % of the rating where surge is not worked out [asae-s376; secondary]"};

constexpr Code rating_unknown_rule{
    "rating-unknown",
    "the pipe's rating is not known",
    "The model describes a pipe without saying what pressure it stands.",
    "So nobody can say whether it holds when everything is shut.",
    "Write `rating:` on the pipe, or take it from the catalogue (`runnel pipes`).",
    "static pressure must stay below the rating at every point [nrcs-430; found]"};

constexpr Code rating_if_survey_right_rule{
    "rating-if-survey-right",
    "a pipe that is strong enough only if the survey is right",
    "As surveyed the standing pressure is within the rating. With the point lower by the stated error of the "
    "survey it is not.",
    "A survey that is off by its own stated error is nobody's fault, and the pipe bursts all the same.",
    "Level the line again, or take a stronger pipe there.",
    "the survey's stated error; static pressure must stay below the rating at every point [nrcs-430; found]"};

constexpr Code pressure_below_air_rule{
    "pressure-below-air",
    "the line is under suction",
    "The grade line lies below the pipe there: the pressure inside is less than the air's outside.",
    "Air gets in at every joint that is not tight, and comes out of the water itself at about 7.5 m of "
    "suction. Dirty ground water is drawn in as well. The line then carries less, or stops.",
    "Lower the line there, or make the pipe larger above the point and smaller below it.",
    "air comes out of water at about 7.5 m [air-release-chapter; found]; the water boils at the vapour "
    "limit"};

// Working pressure at most 72 % of the rating where surge is not worked out
// [asae-s376; secondary].
constexpr double share_without_surge = 0.72;
// Dissolved air comes out at about 7.5 m under the air's pressure [air-release-chapter; found].
constexpr double air_comes_out_m = 7.5;
// The solver closes heads to 1e-9 m; a millimetre under air pressure is nothing.
constexpr double gauge_noise_m = 1e-3;

/// A stretch of a line laid in one pipe.
struct Laid {
  double from_m = 0.0, to_m = 0.0;
};

Laid laid_from_to(const network::Line& line, std::size_t pipe) {
  const bool last = pipe + 1 == line.pipes.size();
  return {line.pipes[pipe].from.metres(),
          last ? line.survey.back().station.metres() : line.pipes[pipe + 1].from.metres()};
}

struct WorstPoint {
  const steady::LinePoint* point = nullptr;
  double head_m = 0.0;
  bool standing = false;  ///< with everything shut; else as it runs
};

/// Whether a reducing valve stands there: what is told of that point is the pressure before it, which the
/// pipe that begins there never sees.
bool reduced_at(const network::Line& line, double station_m) {
  return std::any_of(line.parts.begin(), line.parts.end(), [&](const network::FittedPart& part) {
    return part.kind == network::PartKind::reducing_valve &&
           std::abs(part.at.metres() - station_m) < gauge_noise_m;
  });
}

// The greatest head on one pipe of a line, standing where it can be made to stand (`index` below nought:
// anywhere), or running; both ends of every stretch are looked at.
WorstPoint greatest(const steady::LineState& run, const network::Line& line, int index, std::size_t pipe,
                    const Shutting& shutting) {
  WorstPoint worst;
  const auto [from, to] = laid_from_to(line, pipe);
  for (const steady::LinePoint& p : run.points) {
    if (p.station_m < from - gauge_noise_m || p.station_m > to + gauge_noise_m) continue;
    if (std::abs(p.station_m - from) < gauge_noise_m && reduced_at(line, p.station_m)) continue;
    if (p.static_head_m && (index < 0 || shutting.can_stand(index, p.station_m)) &&
        (!worst.point || *p.static_head_m > worst.head_m))
      worst = {&p, *p.static_head_m, true};
    // Where nothing moves, the running pressure differs from the static one by rounding alone.
    if (p.pressure_head_m && (!worst.point || *p.pressure_head_m > worst.head_m + gauge_noise_m))
      worst = {&p, *p.pressure_head_m, false};
  }
  return worst;
}

void running_above(const network::Line& line, const pipes::Pipe& pipe, const WorstPoint& worst,
                   const Figure& running, double rating_pa, Findings& out) {
  Draft d(running_above_rating_rule, Severity::error);
  d.on_line(line.name, worst.point->station_m).against(running, {Kind::pressure, rating_pa});
  d.message.name(line.name).say(" runs under ").figure(running).say(" at ");
  d.message.figure(Kind::length, worst.point->station_m).say("; ").name(pipe.name).say(" is rated for ");
  d.message.figure(Kind::pressure, rating_pa).say(" at this water temperature: it may burst.");
  d.advice.say("Take a pipe of a higher rating there, or put a break-pressure box above it.");
  out.push_back(d.done());
}

/// The part of a stretch between the first and the last station where the static pressure is more than its
/// pipe bears, taken straight between the points.
Laid overloaded(const steady::LineState& run, const Laid& laid, double most_head_m) {
  Laid over{laid.to_m, laid.from_m};
  for (std::size_t i = 0; i + 1 < run.points.size(); ++i) {
    const steady::LinePoint &a = run.points[i], &b = run.points[i + 1];
    if (b.station_m <= laid.from_m || a.station_m >= laid.to_m) continue;
    const double over_a = a.static_head_m.value_or(0.0) - most_head_m,
                 over_b = b.static_head_m.value_or(0.0) - most_head_m;
    if (over_a <= 0.0 && over_b <= 0.0) continue;
    const double crossing_m = a.station_m + (b.station_m - a.station_m) * over_a / (over_a - over_b);
    over.from_m = std::min(over.from_m, over_a > 0.0 ? a.station_m : crossing_m);
    over.to_m = std::max(over.to_m, over_b > 0.0 ? b.station_m : crossing_m);
  }
  return {std::max(over.from_m, laid.from_m), std::min(over.to_m, laid.to_m)};
}

void advise_stronger(const Case& c, const steady::LineState& run, const Laid& laid, const Figure& standing,
                     double rating_pa, Sentence& advice) {
  const auto [from_m, to_m] = overloaded(run, laid, rating_pa / c.system.site().specific_weight_nm3());
  advice.say("Take pipe rated for more than ").figure(standing).say(" from ").figure(Kind::length, from_m);
  advice.say(" to ").figure(Kind::length, to_m).say(", or put a break-pressure box above it.");
}

/// A pipe that bears what stands in it only if the survey is right.
void within_survey_error(const Case& c, const network::Line& line, const WorstPoint& worst,
                         const pipes::Pipe& pipe, double rating_pa, Findings& out) {
  const double error_m = line.survey_error.value_or(Length{}).metres();
  const Figure lower = pressure_of_head(c.system, worst.head_m + error_m);
  if (!(error_m > 0.0) || lower.si <= rating_pa) return;
  Draft d(rating_if_survey_right_rule, Severity::warning);
  d.on_line(line.name, worst.point->station_m).against(lower, {Kind::pressure, rating_pa});
  d.message.name(line.name).say(" would stand under ").figure(lower).say(" at ");
  d.message.figure(Kind::length, worst.point->station_m).say(" if it lies lower there by the ");
  d.message.figure(Kind::head, error_m).say(" that the survey may be wrong; ").name(pipe.name);
  d.message.say(" is rated for ").figure(Kind::pressure, rating_pa).say(".");
  d.advice.say("Level the line again, or take a stronger pipe there.");
  out.push_back(d.done());
}

/// True if the pipe is loaded above its rating.
bool judge_pipe(const Case& c, const network::Line& line, const steady::LineState& run, std::size_t index,
                const WorstPoint& worst, double rating_pa, Findings& out) {
  const pipes::Pipe& pipe = line.pipes[index].pipe;
  const Figure standing = pressure_of_head(c.system, worst.head_m);
  const bool over = standing.si > rating_pa;
  if (!worst.standing) {
    if (over) running_above(line, pipe, worst, standing, rating_pa, out);
    return over;
  }
  if (!over) within_survey_error(c, line, worst, pipe, rating_pa, out);
  if (!over && standing.si <= share_without_surge * rating_pa) return false;
  Draft d(over ? static_above_rating_rule : static_above_72_percent_rule,
          over ? Severity::error : Severity::warning);
  d.on_line(line.name, worst.point->station_m);
  d.against(standing, {Kind::pressure, over ? rating_pa : share_without_surge * rating_pa});
  d.message.name(line.name).say(" stands under ").figure(standing).say(" at ");
  d.message.figure(Kind::length, worst.point->station_m).say(" when everything is shut; ").name(pipe.name);
  d.message.say(over ? " is rated for " : ", rated for ").figure(Kind::pressure, rating_pa);
  if (over) {
    d.message.say(" at this water temperature: it may burst.");
    advise_stronger(c, run, laid_from_to(line, index), standing, rating_pa, d.advice);
  } else {
    d.message.say(", should then hold no more than ").figure(Kind::pressure, share_without_surge * rating_pa);
    d.message.say(": a valve shut quickly may add the rest.");
    d.advice.say("Take a stronger pipe, or work out the surge and see that valves close slowly.");
  }
  d.source(over ? "static pressure must stay below the rating at every point [nrcs-430; found]"
                : "at most 72 % of the rating where surge is not worked out [asae-s376; secondary]");
  out.push_back(d.done());
  return over;
}

void rating_unknown(const network::Line& line, const pipes::Pipe& pipe, const Figure& standing,
                    Findings& out) {
  Draft d(rating_unknown_rule, Severity::warning);
  d.on_line(line.name);
  d.message.say("What pressure ").name(pipe_on(line, pipe));
  d.message.say(" stands is not known; it must stand ").figure(standing).say(".");
  d.advice.say(
      "Write the pipe's `rating`, behind `--rating` of `quick`, or take a pipe that the catalogue rates.");
  out.push_back(d.done());
}

void judge_suction(const Case& c, const network::Line& line, int index, const steady::LinePoint& p,
                   Findings& out) {
  const double under = -*p.pressure_head_m;
  const bool sealed = line.air == network::Air::sealed;
  const bool boils = under >= c.system.site().vapour_limit_m() - gauge_noise_m;
  Draft d(pressure_below_air_rule, boils || !sealed ? Severity::error : Severity::warning);
  d.on_line(line.name, p.station_m);
  d.against({Kind::head, -under}, {Kind::head, sealed ? -air_comes_out_m : 0.0});
  d.message.name(line.name).say(" is under suction at ").figure(Kind::length, p.station_m).say(": ");
  d.message.figure(Kind::head, under).say(" of water below the air's pressure.");
  if (!sealed)
    d.advice.say(
        "Air is drawn in there, and less water will flow than worked out. Lower the line there, or enlarge "
        "it below.");
  else if (boils)
    d.advice.say("The water boils there and the column breaks: it will not run so. ")
        .say(throttling_helps(c.system, c.state, index, p.station_m)
                 ? "Throttle the line at its lower end, which draws the suction, or lower it there."
                 : "Lower the line there.");
  else if (under > air_comes_out_m)
    d.advice.say("Air comes out of the water there and stops it in time. Lower the line there.");
  else
    d.advice.say(
        "It runs as a siphon: every joint must be tight, and it must be filled by hand before it starts.");
  d.source("air comes out of water at about 7.5 m under the air's pressure [air-release-chapter; found]");
  out.push_back(d.done());
}

}  // namespace

namespace {

/// A pipe that holds as it runs, and would not if its end were shut.
void never_to_be_shut(const Case& c, const network::Line& line, const steady::LineState& run, std::size_t i,
                      double rating_pa, const Shutting& shutting, Findings& out) {
  const WorstPoint shut = greatest(run, line, -1, i, shutting);
  const Figure standing = pressure_of_head(c.system, shut.head_m);
  if (!shut.point || !shut.standing || standing.si <= rating_pa) return;
  Draft d(never_to_be_shut_rule, Severity::warning);
  d.on_line(line.name, shut.point->station_m).against(standing, {Kind::pressure, rating_pa});
  d.message.say("If the end of ")
      .name(line.name)
      .say(" were ever shut, it would stand under ")
      .figure(standing);
  d.message.say(" at ").figure(Kind::length, shut.point->station_m).say("; ").name(line.pipes[i].pipe.name);
  d.message.say(" is rated for ").figure(Kind::pressure, rating_pa).say(".");
  advise_stronger(c, run, laid_from_to(line, i), standing, rating_pa, d.advice);
  out.push_back(d.done());
}

}  // namespace

std::string pipe_on(const network::Line& line, const pipes::Pipe& pipe) {
  const bool says_it = pipe.name.ends_with(" of " + line.name);
  return says_it ? pipe.name : pipe.name + " on " + line.name;
}

void pressure_against_rating(const Case& c, Findings& out) {
  const Shutting shutting(c.system, c.state);
  for (std::size_t l = 0; l < c.system.lines().size(); ++l) {
    const network::Line& line = c.system.lines()[l];
    const steady::LineState* run = run_of(c.system, c.state, line);
    if (!run) continue;
    for (std::size_t i = 0; i < line.pipes.size(); ++i) {
      const pipes::Pipe& pipe = line.pipes[i].pipe;
      const std::optional<double> rating = allowed_pressure_pa(c.system, pipe);
      // Somebody may hold a thumb on an end without a tap: where the rating is not known, the static pressure
      // counts anyway.
      const WorstPoint worst = greatest(*run, line, rating ? static_cast<int>(l) : -1, i, shutting);
      const bool loaded = worst.point && worst.head_m > 0.0;
      if (rating && !(loaded && judge_pipe(c, line, *run, i, worst, *rating, out)))
        never_to_be_shut(c, line, *run, i, *rating, shutting, out);
      if (!rating && loaded) rating_unknown(line, pipe, pressure_of_head(c.system, worst.head_m), out);
    }
  }
}

void nothing_to_shut(const Case& c, Findings& out) {
  const Shutting shutting(c.system, c.state);
  std::vector<std::string> names;
  for (std::size_t l = 0; l < c.system.lines().size(); ++l)
    if (shutting.never_stands(static_cast<int>(l))) names.push_back(c.system.lines()[l].name);
  if (names.empty()) return;
  Draft d(nothing_to_shut_rule, Severity::note);
  d.on_line(names.front());
  d.message.say("Nothing on ")
      .name(names.front())
      .say(
          " or behind it can be shut, so water never stands in it and it is "
          "judged as it runs.");
  say_others(d.message, names, [](const std::string& name) { return name; });
  d.advice.say("If a valve or a cap is ever put there, write it into the model first.");
  out.push_back(d.done());
}

void pressure_below_air(const Case& c, Findings& out) {
  for (const network::Line& line : c.system.lines()) {
    const steady::LineState* run = run_of(c.system, c.state, line);
    if (!run) continue;
    const steady::LinePoint* worst = nullptr;
    for (const steady::LinePoint& p : run->points)
      if (p.pressure_head_m && (!worst || *p.pressure_head_m < *worst->pressure_head_m)) worst = &p;
    if (!worst || !(*worst->pressure_head_m < -neglected_m(*run))) continue;
    const int index = static_cast<int>(&line - c.system.lines().data());
    // Where air goes in with the water there is no suction.
    if (!falls_all_the_way(c.system, c.state, index)) judge_suction(c, line, index, *worst, out);
  }
}

std::vector<Code> pressure_codes() {
  return {static_above_rating_rule,  rating_if_survey_right_rule, never_to_be_shut_rule,
          running_above_rating_rule, nothing_to_shut_rule,        static_above_72_percent_rule,
          rating_unknown_rule,       pressure_below_air_rule};
}

}  // namespace runnel::verdict
