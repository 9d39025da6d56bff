// Collection boxes: what spills, what runs part-full, what draws air at the outlet.
#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

constexpr Code box_spills_rule{
    "box-spills",
    "the spring gives more than is taken",
    "The collection box stands at its lip and the rest runs over.",
    "That is how a healthy box works. The overflow must be able to carry it, also in the wettest month.",
    "Lead it away over stone or pipe so that it does not undermine the box. If the water is wanted below,"
    " a larger pipe would carry it.",
    "physics: the box stands at its lip and spills what the line does not carry"};

constexpr Code box_top_part_full_rule{
    "box-top-part-full",
    "the top of the line runs part-full",
    "The pipe could carry more than the spring gives, so the water line stands below the outlet's crown "
    "and the top of the pipe is partly filled with air.",
    "It is no fault. But no level can be given for the box, and air travels with the water.",
    "Vent the line just below the box and lay its top with an even fall, so that air finds its way back.",
    "physics: below the outlet's crown the grade line at the box is not a level"};

constexpr Code shallow_box_rule{
    "shallow-box",
    "too little water over the outlet",
    "To get into the pipe the water needs its velocity head and the entrance loss; the depth of water "
    "over the outlet is less than three times that.",
    "The entrance may govern instead of the pipe, and a whirl draws air into the line. The velocity head,"
    " which is neglected at places, is not small here.",
    "Lower the outlet, raise the lip, or start the line in a larger pipe.",
    "own rule; no published limit used"};

// Water needed over the pipe for each velocity head it takes; own rule: at three times the entrance
// needs, the neglected velocity head moves the answer by less than the survey's own error.
constexpr double comfortable_heads = 3.0;
// Of the mouth of a line that runs against the way it is drawn [water-supply-6-4].
constexpr double sharp_entrance_loss = 0.5;

}  // namespace

void box_spills(const Case& c, Findings& out) {
  for (const steady::PlaceState& box : c.state.boxes) {
    if (!(box.spill_m3s > network::no_flow_m3s)) continue;
    Draft d(box_spills_rule, Severity::note);
    d.at_place(box.name);
    d.message.name(box.name)
        .say(" spills ")
        .figure(Kind::flow, box.spill_m3s)
        .say(" over its lip: the spring gives more than is taken.");
    const network::Box* drawn = c.system.box(box.name);
    if (drawn && !drawn->overflow) d.message.say(" The lip is taken as free, as no overflow is described.");
    d.advice.say("Lead the overflow away from the box so that it does not wash out the ground below it.");
    out.push_back(d.done());
  }
}

void box_top_part_full(const Case& c, Findings& out) {
  for (const steady::PlaceState& box : c.state.boxes) {
    if (!box.top_part_full) continue;
    Draft d(box_top_part_full_rule, Severity::note);
    d.at_place(box.name);
    d.message.say("The line leaves ")
        .name(box.name)
        .say(
            " part-full: the pipe could carry more than the spring gives, so water stands no higher than the"
            " outlet and the line draws air there.");
    d.advice.say(
        "No level is given for the box. Vent the line just below the box and lay its top with an even fall.");
    out.push_back(d.done());
  }
}

void shallow_box_on_fast_pipe(const Case& c, Findings& out) {
  for (const network::Line& line : c.system.lines()) {
    const steady::LineState* run = run_of(c.system, c.state, line);
    if (!run || run->reaches.empty() || std::abs(run->flow_m3s) <= network::no_flow_m3s) continue;
    // The end at which the water goes in.
    const bool forward = run->flow_m3s > 0.0;
    const int mouth = forward ? line.from : line.to;
    const network::Box* box = c.system.box(mouth);
    if (!box) continue;
    const steady::PlaceState& place = network::place_state(c.system, c.state, mouth);
    if (place.top_part_full || !place.level_m) continue;
    const double bore = (forward ? line.pipes.front() : line.pipes.back()).pipe.bore.metres();
    const double velocity = std::abs(run->flow_m3s) / (pi * bore * bore / 4.0);
    const double entrance_loss = forward ? line.entrance_loss : sharp_entrance_loss;
    const double needed = (1.0 + entrance_loss) * velocity * velocity / (2.0 * gravity_ms2);
    const double depth = *place.level_m - (forward ? line.start_elevation() : line.end_elevation()).metres();
    if (!(depth < comfortable_heads * needed)) continue;
    Draft d(shallow_box_rule, Severity::warning);
    d.at_place(box->name).against({Kind::head, depth}, {Kind::head, comfortable_heads * needed});
    d.message.say("Only ")
        .figure(Kind::head, depth)
        .say(" of water stands over the outlet of ")
        .name(box->name);
    d.message.say(", and the water needs ")
        .figure(Kind::head, needed)
        .say(" to get into the pipe at that speed: the entrance may govern and suck air.");
    d.advice.say("Lower the outlet, raise the lip, or start the line in a larger pipe: at least ");
    d.advice.least(Kind::head, comfortable_heads * needed).say(" of water over the outlet.");
    d.source("own rule: three times the entrance loss and velocity head; no published limit used");
    out.push_back(d.done());
  }
}

std::vector<Code> box_codes() { return {box_spills_rule, box_top_part_full_rule, shallow_box_rule}; }

}  // namespace runnel::verdict
