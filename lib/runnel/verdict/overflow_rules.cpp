// Overflows: where the water goes when it cannot go down the line.
#include <algorithm>

#include "runnel/losses/overflow.h"
#include "runnel/network/change.h"
#include "runnel/network/corner.h"
#include "runnel/network/floats.h"
#include "runnel/verdict/at_rest.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

constexpr Code overflow_too_small_rule{
    "overflow-too-small",
    "an overflow that cannot let the water out",
    "With its line shut a box or tank must let out all that runs in, and its overflow never can.",
    "The water then leaves where nobody meant it to: over the wall, through the lid, into the bank.",
    "Give it a longer lip, a wider standpipe, a larger pipe through the wall, or more holes.",
    "weir, orifice and inlet-control formulas [weir-page], [nrcs-permit], [hds-5]"};

constexpr Code overflow_overtops_rule{
    "overflow-overtops",
    "water runs over the wall before the overflow takes it",
    "Over a lip water stands the higher the more leaves by it; here it reaches the top of the wall.",
    "What runs over a wall washes out the ground in front of it, and dirt comes in the same way.",
    "Lower the lip, raise the wall, or give the overflow more length or bore.",
    "weir, orifice and inlet-control formulas [weir-page], [nrcs-permit], [hds-5]"};

constexpr Code overflow_head_rule{
    "overflow-head",
    "how high water stands over the lip",
    "To let out all that runs in, water stands over the lip of the overflow by the head that is told.",
    "The level in the box, and every static pressure below it, is higher by as much.",
    "Nothing, if there is room below the top of the wall; give that as `rim`.",
    "weir, orifice and inlet-control formulas [weir-page], [nrcs-permit], [hds-5]"};

constexpr Code overflow_if_more_rule{
    "overflow-if-more",
    "an overflow that is too small if the spring gives more than its mean",
    "The wall holds what runs in with the mean of the bucket tests. With the most that the tests leave open "
    "the "
    "water runs over it.",
    "Three buckets do not tell to a tenth what a spring gives, and it gives most when nobody times it.",
    "Time the spring again, some more times and in the wet season, or give the box a larger overflow.",
    "yields by Student's t; weir, orifice and inlet-control formulas [weir-page], [nrcs-permit], [hds-5]"};

// Where nobody says how high the wall is, it ends no more than this above the lip; common practice, no
// source.
constexpr double highest_wall_m = 1.0;

/// What runs into each box by its lines, and into each tank.
struct Inflows {
  std::vector<double> boxes_m3s, tanks_m3s;
};

Inflows inflows_of(const steady::State& state, const std::vector<Flow>& yields) {
  Inflows in;
  for (std::size_t b = 0; b < state.boxes.size(); ++b)
    in.boxes_m3s.push_back(state.boxes[b].inflow_m3s - yields[b].si());
  for (const steady::PlaceState& tank : state.tanks) in.tanks_m3s.push_back(tank.inflow_m3s);
  return in;
}

/// The same when every spring gives the most that is known of it; none if no spring gives more than now.
std::optional<Inflows> wet_inflows(const network::System& system, const std::vector<Flow>& most) {
  if (most == dry::yields_now(system)) return std::nullopt;
  const steady::State state = steady::solve(network::with_yields(system, most));
  if (state.outcome != steady::Outcome::settled) return std::nullopt;
  return inflows_of(state, most);
}

/// Whether any wall is to be held against what goes over a lip.
bool some_overflow(const network::System& system) {
  const auto walled = [](const auto& place) { return place.overflow.has_value(); };
  return std::any_of(system.boxes().begin(), system.boxes().end(), walled) ||
         std::any_of(system.tanks().begin(), system.tanks().end(), walled);
}

/// A box or a tank that may spill, and the most that then goes over.
struct Spilling {
  const std::string& name;
  const std::optional<losses::Overflow>& overflow;
  const std::optional<Length>& rim;
  Length lip;
  double most_m3s;
};

Draft on(const Spilling& place, const Code& rule, Severity severity) {
  Draft d(rule, severity);
  d.at_place(place.name);
  d.source("[nrcs-permit], [weir-page], [hds-5]: formulas of losses/overflow.h");
  return d;
}

void too_small(const Spilling& place, Findings& out) {
  Draft d = on(place, overflow_too_small_rule, Severity::error);
  d.message.say("The overflow of ")
      .name(place.name)
      .say(" cannot let out the ")
      .figure(Kind::flow, place.most_m3s)
      .say(" that run in when nothing leaves by the line, however high the water rises.");
  d.advice.say("Give it a longer lip, a wider standpipe or more holes.");
  out.push_back(d.done());
}

void overtops(const Spilling& place, double head_m, double room_m, Findings& out) {
  Draft d = on(place, overflow_overtops_rule, Severity::error);
  d.against({Kind::head, head_m}, {Kind::head, room_m});
  d.message.say("When nothing leaves ")
      .name(place.name)
      .say(" by the line, water stands ")
      .figure(Kind::head, head_m)
      .say(" over its lip to let ")
      .figure(Kind::flow, place.most_m3s)
      .say(" out, and the wall is only ")
      .figure(Kind::head, room_m)
      .say(" higher than the lip: it runs over the wall.");
  d.advice.say("Lower the lip, raise the wall, or give it a longer lip or a wider standpipe.");
  out.push_back(d.done());
}

void no_wall_so_high(const Spilling& place, double head_m, Findings& out) {
  Draft d = on(place, overflow_too_small_rule, Severity::error);
  d.against({Kind::head, head_m}, {Kind::head, highest_wall_m});
  d.message.say("To let out the ")
      .figure(Kind::flow, place.most_m3s)
      .say(" that run in when nothing leaves ")
      .name(place.name)
      .say(" by the line, water would have to stand ")
      .figure(Kind::head, head_m)
      .say(" over the lip of its overflow: it runs over the wall before.");
  d.advice.say("Give it a larger overflow; or write the top of the wall as `rim`, if it is so high.");
  out.push_back(d.done());
}

void stands_higher(const Spilling& place, double head_m, Findings& out) {
  Draft d = on(place, overflow_head_rule, Severity::note);
  d.message.say("When nothing leaves ")
      .name(place.name)
      .say(" by the line, water stands ")
      .figure(Kind::head, head_m)
      .say(" over its lip to let ")
      .figure(Kind::flow, place.most_m3s)
      .say(" out. The figures of standing water below it count that.");
  if (!place.rim) d.advice.say("Give the top of its wall as `rim`, so that it can be judged.");
  out.push_back(d.done());
}

void judge(const Spilling& place, Findings& out) {
  if (!place.overflow || !(place.most_m3s > 0.0)) return;
  const auto head = losses::overflow_head(*place.overflow, place.most_m3s);
  if (!head) return too_small(place, out);
  const double room_m = place.rim ? (*place.rim - place.lip).metres() : 0.0;
  if (place.rim && head->head_m >= room_m) return overtops(place, head->head_m, room_m, out);
  if (!place.rim && head->head_m > highest_wall_m) return no_wall_so_high(place, head->head_m, out);
  stands_higher(place, head->head_m, out);
}

/// What springs give at the upper end of what their bucket tests leave open, if that is more.
std::vector<Flow> most_timed(const network::System& system, std::vector<Flow> most) {
  const auto there =
      network::at_corner(system, network::Corner::good, unknown_alone(&network::Unknowns::yield));
  for (std::size_t b = 0; there && b < most.size(); ++b)
    most[b] = std::max(most[b], there.value->boxes()[b].yield);
  return most;
}

/// What is wrong with a wall, as a condition: only so much as the bucket tests leave open at most runs over
/// it.
Finding at_most_timed(const Finding& finding) {
  Draft d(overflow_if_more_rule, Severity::warning);
  d.at_place(finding.where.place);
  d.message.name(finding.where.place).say(" holds what the springs give by the mean of their bucket tests.");
  d.message.say(" At the most that the tests leave open it runs over the wall.");
  d.advice.say("Time the springs again, or give ").name(finding.where.place).say(" a larger overflow.");
  return d.done();
}

/// Holds every wall against so much water.
void judge_walls(const Case& c, const std::vector<Flow>& most, Findings& out) {
  const Inflows now = inflows_of(c.state, dry::yields_now(c.system));
  const Inflows wet = wet_inflows(c.system, most).value_or(now);
  // Others that shut their taps and floats send more this way.
  const std::optional<AtRest> rest = at_rest(c.system, most);
  // With its line shut a place has to let out all that springs and lines bring.
  for (std::size_t i = 0; i < c.state.boxes.size(); ++i) {
    const network::Box& box = c.system.boxes()[i];
    const double lines_m3s = std::max(now.boxes_m3s[i], wet.boxes_m3s[i]);
    judge({box.name, box.overflow, box.rim, box.lip,
           most[i].si() + std::max(lines_m3s, rest ? rest->by_lines_m3s(box.name) : 0.0)},
          out);
  }
  for (std::size_t i = 0; i < c.state.tanks.size(); ++i) {
    const network::Tank& tank = c.system.tanks()[i];
    if (tank.held || tank.float_valve) continue;
    const bool floats = !network::floats_of(c.system.model(), tank).empty();
    const double gains_m3s = floats ? 0.0 : std::max(now.tanks_m3s[i], wet.tanks_m3s[i]);
    judge({tank.name, tank.overflow, tank.rim, tank.lip,
           std::max(gains_m3s, rest ? rest->spills_m3s(tank.name) : 0.0)},
          out);
  }
}

}  // namespace

void overflows(const Case& c, Findings& out) {
  if (!some_overflow(c.system)) return;
  const std::vector<Flow> most = dry::most_yields(c.system);
  Findings found;
  judge_walls(c, most, found);
  out.insert(out.end(), found.begin(), found.end());
  if (any_error(found)) return;
  const std::vector<Flow> timed = most_timed(c.system, most);
  if (timed == most) return;
  Findings then;
  judge_walls(c, timed, then);
  for (const Finding& finding : then)
    if (finding.severity == Severity::error) out.push_back(at_most_timed(finding));
}

std::vector<Code> overflow_codes() {
  return {overflow_if_more_rule, overflow_too_small_rule, overflow_overtops_rule, overflow_head_rule};
}

}  // namespace runnel::verdict
