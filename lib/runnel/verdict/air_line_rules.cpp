// What there is to say of a line besides its crests: near the grade line, uncertain grades, jumps, washouts.
#include <algorithm>
#include <cmath>
#include <string>

#include "runnel/verdict/air_rules.h"
#include "runnel/verdict/air_words.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {
namespace {

constexpr Code air_grade_uncertain_rule{
    "air-grade-uncertain",
    "the survey cannot tell which way a stretch falls",
    "The rise or fall of the stretch is smaller than twice the stated error of the survey.",
    "A stretch thought to fall may rise and hold air, or lie flat and fill with silt.",
    "Level it again with a better instrument, or lay the pipe to a string line with an even fall.",
    "both ends off by the stated error, opposite ways"};

constexpr Code air_near_grade_rule{
    "air-near-grade",
    "the grade line comes close to the pipe",
    "Away from the high points the grade line lies nearer above the pipe than the survey's stated error, "
    "or than a metre if none is stated.",
    "A small error of the survey, or a little more flow, brings it under the pipe; air comes in or out "
    "there.",
    "Lay the pipe deeper on that stretch, or take a wider pipe above it.",
    "the survey's stated error; else common practice, no source"};

constexpr Code air_part_full_rule{
    "air-part-full",
    "part of the line runs with air over the water",
    "Water runs part-full down a stretch that no air valve and no open box lets air into.",
    "The air there is carried off little by little and drawn in elsewhere, and the flow surges.",
    "Put an air valve at the top of the stretch.",
    "physics: a part-full pipe needs its air"};

constexpr Code air_jump_rule{
    "air-jump",
    "swift water strikes the full pipe",
    "Water that rushes down part-full meets the pipe running full: a hydraulic jump, where the grade line"
    " meets the pipe. The share of air is an upper figure.",
    "The jump beats air into the water; what is not carried on gathers at the next high point.",
    "Let the air back up through an air valve at the high point before it, or take a narrower pipe below.",
    "air after a jump 0.0066 (F - 1)^1.4 [kalinske-robertson1943; from memory], measured in a 6 in pipe"};

constexpr Code air_washout_missing_rule{
    "air-washout-missing",
    "a low point has no washout",
    "The line has a low point deeper than its bore, and no washout near it.",
    "Silt settles there, and the line cannot be emptied against frost or for mending.",
    "Put a washout there: a tee and a valve led to open air.",
    "washouts at the bottom of each large U [jordan1980; from memory]"};

using air::Risk;
using air::RiskKind;

Sentence& say_stretch(Sentence& s, const std::string& line, const air::RiskPoint& point) {
  s.say("From ").figure(Kind::length, point.from_m).say(" to ").figure(Kind::length, point.to_m).say(" ");
  return s.name(line);
}

Severity severity_of(Risk risk) { return risk == Risk::high ? Severity::warning : Severity::note; }

void near_grade(const network::Line& line, const air::RiskPoint& point, bool stated,
                std::vector<Finding>& out) {
  const bool part = point.kind == RiskKind::part_full;
  Draft d(part ? air_part_full_rule : air_near_grade_rule, severity_of(point.risk));
  d.on_line(line.name, point.worst_m);
  d.against({Kind::head, point.clearance_m.value_or(0.0)}, {Kind::head, point.limit_m});
  say_stretch(d.message, line.name, point);
  if (part)
    d.message.say(": ");
  else
    d.message.say(" lies within ").figure(Kind::head, point.limit_m).say(" of the grade line: ");
  d.message.say(words(point.reason)).say(".");
  d.advice.say(words(point.remedy));
  d.source(stated ? "nearer than the survey's stated error"
                  : "nearer than 1 m (common practice, no source); a stated `survey_error` takes its place");
  out.push_back(d.done());
}

void uncertain_grade(const network::Line& line, const air::RiskPoint& point, std::vector<Finding>& out) {
  Draft d(air_grade_uncertain_rule, point.risk == Risk::low ? Severity::note : Severity::warning);
  d.on_line(line.name, point.from_m);
  d.against({Kind::head, std::abs(point.rise_m)}, {Kind::head, point.limit_m});
  say_stretch(d.message, line.name, point).say(point.rise_m > 0.0 ? " rises by only " : " falls by only ");
  d.message.figure(Kind::head, std::abs(point.rise_m))
      .say(", less than the survey can tell: ")
      .say(words(point.reason));
  if (point.level_rise_m && *point.level_rise_m > 0.01)
    d.message.say(", and starting from empty may ask for ")
        .figure(Kind::head, *point.level_rise_m)
        .say(" more");
  d.message.say(".");
  d.advice.say(words(point.remedy));
  d.source("both ends off by the stated error, opposite ways, and the start worked out again");
  out.push_back(d.done());
}

/// The jump that draws in most air, of those below a crest; other jumps give their air back to the box.
const air::Jump* worst_jump(const air::LineAir& air) {
  const air::Jump* worst = nullptr;
  for (const air::Jump& jump : air.jumps) {
    const bool below_crest =
        std::any_of(air.descents.begin(), air.descents.end(), [&](const air::ReachSweep& r) {
          return r.below_crest && jump.station_m >= std::min(r.from_m, r.to_m) &&
                 jump.station_m <= std::max(r.from_m, r.to_m);
        });
    if (jump.fills_pipe && below_crest && (!worst || jump.air_share > worst->air_share)) worst = &jump;
  }
  return worst;
}

void jump_finding(const network::Line& line, const air::LineAir& air, std::vector<Finding>& out) {
  const air::Jump* jump = worst_jump(air);
  if (!jump) return;
  Draft d(air_jump_rule, Severity::note);
  d.on_line(line.name, jump->station_m);
  d.against({Kind::number, jump->froude}, {Kind::number, 1.0});
  d.message.say("At ").figure(Kind::length, jump->station_m).say(" of ").name(line.name);
  d.message.say(" swift water that only partly fills the pipe (Froude number ")
      .figure(Kind::number, jump->froude);
  d.message.say(") strikes the full pipe; the jump beats air into the water, at most ");
  d.message.figure(Kind::percent, jump->air_share).say(" of its flow.");
  d.advice.say(
      "The air must get back up: keep an air valve at the high point before it, or take a narrower pipe from "
      "there down, which runs full.");
  d.source(
      "where the grade line meets the pipe; air after a jump [kalinske-robertson1943; from memory], measured "
      "in "
      "a 6 in pipe");
  out.push_back(d.done());
}

void washout_finding(const network::Line& line, const air::LineAir& air, std::vector<Finding>& out) {
  if (air.washouts.empty()) return;
  constexpr std::size_t named = 4;
  Draft d(air_washout_missing_rule, Severity::note);
  d.on_line(line.name, air.washouts.front().station_m);
  d.message.name(line.name).say(air.washouts.size() == 1 ? " has no washout at its low point at "
                                                         : " has no washout at its low points at ");
  for (std::size_t i = 0; i < std::min(named, air.washouts.size()); ++i) {
    if (i > 0) d.message.say(", ");
    d.message.figure(Kind::length, air.washouts[i].station_m).say(" (it would drain ");
    d.message.figure(Kind::length, air.washouts[i].drains_length_m).say(" of pipe, ");
    d.message.figure(Kind::volume, air.washouts[i].drains_m3).say(")");
  }
  if (air.washouts.size() > named)
    d.message.say(" and " + std::to_string(air.washouts.size() - named) + " more");
  d.message.say(": silt stays there, and the line cannot be emptied.");
  d.advice.say("Put a washout at each low point, lowest first.");
  out.push_back(d.done());
}

}  // namespace

void line_findings(const network::Line& line, const air::LineAir& air, std::vector<Finding>& out) {
  for (const air::RiskPoint& point : air.stretches) {
    const bool near = point.kind == RiskKind::near_grade || point.kind == RiskKind::part_full;
    if (near && !point.crest_inside && point.risk != Risk::low)
      near_grade(line, point, air.clearance_stated, out);
    if (point.kind == RiskKind::uncertain_grade) uncertain_grade(line, point, out);
  }
  jump_finding(line, air, out);
  washout_finding(line, air, out);
}

std::vector<Code> air_line_codes() {
  return {air_grade_uncertain_rule, air_near_grade_rule, air_part_full_rule, air_jump_rule,
          air_washout_missing_rule};
}

}  // namespace runnel::verdict
