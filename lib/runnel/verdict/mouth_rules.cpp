// Mouths of lines in boxes: what hardly covers them, and where they let in less than the line would carry.
#include <cmath>

#include "runnel/losses/mouth.h"
#include "runnel/network/place_state.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

constexpr Code mouth_governs_rule{
    "mouth-governs",
    "the mouth in the box holds the flow back",
    "A mouth that is hardly covered lets water in over a weir, or through a hole once its crown is "
    "drowned, as the inlet of a culvert does. Here that takes more water over the pipe than the line "
    "behind it does.",
    "The line carries less than its length and fall would let it, and the head behind the mouth is lost. "
    "The formulas are fitted to culverts: good to 10 % at best, and untested below 0.1 m of bore.",
    "Lay the mouth deeper under the lip, or begin the line in a larger pipe.",
    "inlet control of culverts [hds-5]; untested below 0.1 m from memory"};

constexpr Code thin_cover_rule{
    "thin-cover",
    "the lip stands less than a bore over the outlet",
    "Elevations are of the middle of the pipe. Below some one and a half bores of cover the mouth itself "
    "decides how much gets in.",
    "What the survey or the mason misses by a little changes the flow by much, and a whirl may draw air "
    "in.",
    "Lay the outlet deeper, or raise the lip.",
    "common practice, no source; where the mouth governs: [hds-5]"};

constexpr Code thin_fall_rule{
    "thin-fall",
    "a line falls less than its own bore",
    "Elevations are of the middle of the pipe. Taken at its top or its bottom they are half a bore off, "
    "and that is much of such a fall, or all of it.",
    "The flow may be far from what was worked out, or nothing may flow.",
    "Measure both ends again, to the middle of the pipe, or give the line more fall.",
    "common practice, no source"};

}  // namespace

void mouths_that_govern(const Case& c, Findings& out) {
  for (std::size_t l = 0; l < c.system.lines().size() && l < c.state.lines.size(); ++l) {
    const network::Line& line = c.system.lines()[l];
    const steady::LineState& run = c.state.lines[l];
    if (!network::mouth_limits(c.system, c.state, l)) continue;
    const Length bore = (run.flow_m3s > 0.0 ? line.pipes.front() : line.pipes.back()).pipe.bore;
    Draft d(mouth_governs_rule, Severity::warning);
    d.on_line(line.name).against({Kind::head, *run.mouth_needs_m}, {Kind::head, bore.metres()});
    d.message.say("The mouth of ")
        .name(line.name)
        .say(" lets in no more than ")
        .figure(Kind::flow, std::abs(run.flow_m3s))
        .say(": for that the water stands ")
        .figure(Kind::head, *run.mouth_needs_m)
        .say(" over the middle of the pipe there. The head behind the mouth is lost.");
    d.advice.say(
        "Lay the mouth deeper under the lip, or begin the line in a larger pipe. The figure is good to ");
    d.advice.say(bore.metres() < losses::smallest_tested_mouth_m
                     ? "10 % at best, and no test is known of so small a pipe."
                     : "10 % at best.");
    d.source("inlet control of culverts [hds-5]");
    out.push_back(d.done());
  }
}

void thin_cover_and_fall(const Case& c, Findings& out) {
  for (const network::Line& line : c.system.lines()) {
    const network::Box* box = c.system.box(line.from);
    const double bore_m = line.pipes.front().pipe.bore.metres();
    if (box) {
      const double cover_m = (box->lip - line.start_elevation()).metres();
      if (cover_m < bore_m) {
        Draft d(thin_cover_rule, Severity::warning);
        d.at_place(box->name).against({Kind::head, cover_m}, {Kind::head, bore_m});
        d.message.say("The lip of ")
            .name(box->name)
            .say(" stands ")
            .figure(Kind::head, cover_m)
            .say(" over the middle of ")
            .name(line.name)
            .say(", less than its bore of ")
            .figure(Kind::head, bore_m)
            .say(". What the survey or the mason misses by a little decides how much gets in.");
        d.advice.say(
            "Lay the outlet deeper, or raise the lip: one bore and a half over the middle of the pipe.");
        d.source("common practice, no source; below some one and a half bores the mouth governs [hds-5]");
        out.push_back(d.done());
      }
    }
    const double fall_m = (line.start_elevation() - line.end_elevation()).metres();
    if (!(fall_m > 0.0 && fall_m < bore_m) || c.system.kind(line.from) == network::PlaceKind::joint ||
        c.system.kind(line.to) == network::PlaceKind::joint)
      continue;
    Draft d(thin_fall_rule, Severity::warning);
    d.on_line(line.name).against({Kind::head, fall_m}, {Kind::head, bore_m});
    d.message.name(line.name)
        .say(" falls ")
        .figure(Kind::head, fall_m)
        .say(" from end to end, less than its bore of ")
        .figure(Kind::head, bore_m)
        .say(": elevations are of the middle of the pipe, and half a bore more or less is all of the fall.");
    d.advice.say("Measure both ends again, to the middle of the pipe, or give the line more fall.");
    out.push_back(d.done());
  }
}

std::vector<Code> mouth_codes() { return {mouth_governs_rule, thin_cover_rule, thin_fall_rule}; }

}  // namespace runnel::verdict
