// Lines whose survey leaves no margin: a high point hardly under the water, or an end hardly below it, and
// nobody says how well the heights were measured.
#include "runnel/network/no_flow.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

constexpr Code no_survey_margin_rule{
    "survey-leaves-no-margin",
    "heights that differ by less than they are measured to",
    "A high point, or the open end of the line, lies less than 0.1 m below the water that is to pass "
    "it, "
    "and no `survey_error` is stated.",
    "A tape and a hand level miss 0.1 m on a hill. Then no water passes.",
    "Level the line again and state its `survey_error`, or give the line more fall there.",
    "0.1 m: common practice, no source"};

// What a tape and a hand level miss on a hill; common practice, no source.
constexpr double unstated_error_m = 0.1;

/// The interior high point or the open end that the water passes by least; none if all have enough.
const steady::LinePoint* closest(const network::System& system, const network::Line& line,
                                 const steady::LineState& run) {
  const steady::LinePoint* least = nullptr;
  const auto& points = run.points;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const bool end = i + 1 == points.size();
    const bool high = points[i].elevation_m > points[i - 1].elevation_m &&
                      (end || points[i].elevation_m >= points[i + 1].elevation_m);
    const bool open_end = end && system.kind(line.to) == network::PlaceKind::outlet;
    if ((!high || end) && !open_end) continue;
    const auto& head_m = points[i].static_head_m;
    if (!head_m || *head_m < 0.0 || *head_m >= unstated_error_m) continue;
    if (!least || *head_m < *least->static_head_m) least = &points[i];
  }
  return least;
}

}  // namespace

void heights_too_close(const Case& c, Findings& out) {
  for (std::size_t l = 0; l < c.system.lines().size() && l < c.state.lines.size(); ++l) {
    const network::Line& line = c.system.lines()[l];
    const steady::LineState& run = c.state.lines[l];
    if (line.survey_error || line.air == network::Air::sealed || !(run.flow_m3s > network::no_flow_m3s))
      continue;
    const steady::LinePoint* point = closest(c.system, line, run);
    if (!point) continue;
    Draft d(no_survey_margin_rule, Severity::warning);
    d.on_line(line.name, point->station_m);
    d.against({Kind::head, *point->static_head_m}, {Kind::head, unstated_error_m});
    d.message.name(line.name).say(" lies only ").figure(Kind::head, *point->static_head_m);
    d.message.say(" below the standing water at ").figure(Kind::length, point->station_m);
    d.message.say(", and nobody says how well it was levelled.");
    d.advice.say("Level it again and state its `survey_error`, or give it more fall there.");
    out.push_back(d.done());
  }
}

std::vector<Code> survey_margin_codes() { return {no_survey_margin_rule}; }

}  // namespace runnel::verdict
