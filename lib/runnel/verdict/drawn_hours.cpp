#include "runnel/verdict/drawn_hours.h"

#include <algorithm>
#include <optional>

#include "runnel/filling/draws.h"
#include "runnel/network/change.h"
#include "runnel/network/corner.h"
#include "runnel/network/draws.h"
#include "runnel/network/hours.h"
#include "runnel/network/mouths.h"
#include "runnel/verdict/beyond_reach.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/filling_needs.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"

namespace runnel::verdict {
namespace {

constexpr Code draw_missed_rule{
    "draw-missed-in-its-hours",
    "more is drawn in some hours than comes",
    "The draws are followed hour by hour, from full tanks, until one day is like the day before. In the hours"
    " in which it is drawn less comes than is drawn, and the store does not bridge them.",
    "A spring that gives enough over the day gives nothing to those who all come at once.",
    "Store more close to where it is drawn, spread the hours, enlarge the pipe, or draw less.",
    "computed: the draws of the model against what comes and what is stored, hour by hour",
    Filling::follows};

constexpr Code tank_sinks_rule{"tank-sinks-day-by-day",
                               "a tank that stands lower every day",
                               "With the draws of the model the tank is never as full again as the day "
                               "before: more is drawn than comes.",
                               "It looks well for weeks, and then it is empty.",
                               "Bring more to it, or draw less. `runnel fill` says when it is empty.",
                               "computed: the draws of the model against what comes, hour by hour",
                               Filling::follows};

constexpr Code drawn_beyond_springs_rule{
    "more-drawn-than-springs-give",
    "more is drawn over the day than the springs give",
    "What is drawn at all places together over a day is more than all springs give. Tanks bridge hours, not "
    "years.",
    "A wider opening or a larger pipe brings sooner what is not there.",
    "Bring more water, or draw less.",
    "computed: the draws of the model over a day against the yields of its springs",
    Filling::follows};

constexpr Code hours_not_judged_rule{
    "draws-not-judged",
    "the hours of the draws were not followed",
    "Draws by the hour are judged by following the levels of tanks through the day. Here that was given up: "
    "they change too often, or the flows at some hour did not settle.",
    "Enough over the day may be too little in its busiest hour.",
    "Run `runnel fill`, or split the model.",
    "",
    Filling::follows};

constexpr Code draws_met_only_if_rule{
    "draws-met-only-if",
    "draws that depend on what nobody knows exactly",
    "With the values of the model what is drawn comes in its hours. With the least bore, old pipe, colder "
    "water, the survey off by its stated error and the least yield that the bucket tests allow it does not.",
    "Pipe ages, springs vary and walls come out thick.",
    "Store more, choose a pipe that leaves more, or take the condition as part of the promise.",
    "walls [iso-11922-1], [astm-d3035; from memory]; yields by Student's t; ageing common practice, no "
    "source",
    Filling::follows};

constexpr Code asked_more_than_drawn_rule{
    "asked-more-than-drawn",
    "a tap of which more is asked than is drawn",
    "More is asked of a tap than its draws say is taken there. A full tank gives it for as long as the tap "
    "is "
    "drawn in a day; taken every day it would empty the tank, or find it low.",
    "Whoever sees that the tap gives so much will take it.",
    "Write what is really drawn there, or open it so far only while the tank is full.",
    "computed: the day followed with as much drawn as is asked",
    Filling::takes_over};

const std::vector<network::Draw> no_draws;

Finding missed(const filling::DrawnDay& draw) {
  Draft d(draw_missed_rule, Severity::error);
  d.at_place(draw.place).against({Kind::volume, draw.given_m3}, {Kind::volume, draw.asked_m3});
  constexpr double hardly = 0.01;  // so little would round away
  const bool nearly = draw.share_short() < hardly;
  d.message.name(draw.place)
      .say(nearly ? " lacks " : " gets ")
      .figure(Kind::volume, nearly ? draw.asked_m3 - draw.given_m3 : draw.given_m3);
  d.message.say(" a day in the hours in which ").figure(Kind::volume, draw.asked_m3).say(" is drawn there.");
  d.advice.say(draw.kind == network::PlaceKind::tank
                   ? "Make the tank larger, spread the hours, draw less, or bring more water to it."
                   : "Store more above it, enlarge the pipe to it, spread the hours, or draw less.");
  return d.done();
}

Finding sinks(const std::string& tank) {
  Draft d(tank_sinks_rule, Severity::error);
  d.at_place(tank);
  d.message.name(tank).say(" stands lower from day to day: more is drawn than comes.");
  d.advice.say("Bring more to it, or draw less. `runnel fill` says when it is empty.");
  return d.done();
}

/// What is drawn in all, where other reasons are told for what does not come.
std::optional<Finding> drawn_beyond_springs(const network::System& system, const filling::TypicalDay& day,
                                            const FlowVerdict& verdict) {
  const auto says_so = [](const Finding& f) { return f.code == "tank-runs-empty"; };
  const auto lives_on_store = [](const AskResult& r) { return r.met_until_s.has_value(); };
  if (!day.sinking.empty() || std::any_of(verdict.findings.begin(), verdict.findings.end(), says_so) ||
      std::any_of(verdict.asks.begin(), verdict.asks.end(), lives_on_store))
    return std::nullopt;
  const auto [give_m3s, springs] = springs_in_all(system);
  const double springs_m3 = give_m3s * filling::day_s;
  double drawn_m3 = 0.0;
  for (const filling::DrawnDay& draw : day.draws) drawn_m3 += draw.asked_m3;
  const auto held = [](const network::Tank& tank) { return tank.held; };
  const bool may_help_out = std::any_of(system.tanks().begin(), system.tanks().end(), held);
  if (springs == 0 || may_help_out || system.tanks().empty() ||
      drawn_m3 <= springs_m3 * (1.0 + filling::followed_share))
    return std::nullopt;
  Draft d(drawn_beyond_springs_rule, Severity::error);
  d.against({Kind::volume, springs_m3}, {Kind::volume, drawn_m3});
  d.message.say("Over the day ").figure(Kind::volume, drawn_m3).say(" is drawn in all, and the ");
  d.message.say(springs == 1 ? "spring gives " : "springs give ").figure(Kind::volume, springs_m3).say(".");
  d.advice.say("Bring more water, or draw less: over the day the springs give less than is drawn.");
  return d.done();
}

/// A tap with hours of which more is asked than is drawn is opened wider for as long as it is drawn in a day:
/// what is stored must last so long. At any other place more is asked day and night.
bool lasts_opened_wider(const network::System& system, const AskResult& missed) {
  const network::Outlet* tap = system.outlet(missed.ask.at);
  return tap && network::has_hours(*tap) && *missed.met_until_s >= network::hours_a_day(tap->draws) * 3600.0;
}

/// The lowest point by which a tank gives water: its floor where it is drawn from itself.
double mouth_m(const network::System& system, const std::string& name) {
  const network::Tank& tank = *system.tank(name);
  const Length none = tank.draws.empty() ? tank.lip : tank.floor;
  return std::min(none, network::lowest_mouth(system.model(), tank).value_or(none)).metres();
}

/// Whether no more is asked than people draw, to the digits that a day is followed to. A tap without draws
/// stands open all day; a pressure is asked of what runs.
bool is_drawn(const network::System& system, const network::Ask& ask) {
  if (ask.kind != network::AskKind::flow) return true;
  const network::Outlet* tap = system.outlet(ask.at);
  const network::Tank* tank = system.tank(ask.at);
  const network::Joint* joint = system.joint(ask.at);
  if (tap && tap->draws.empty()) return true;
  const auto& draws = tap ? tap->draws : tank ? tank->draws : joint ? joint->draws : no_draws;
  return network::busiest_hour(draws).si() >= ask.flow.si() * (1.0 - filling::followed_share);
}

bool short_at(const filling::TypicalDay& day, const std::string& place) {
  return std::any_of(day.draws.begin(), day.draws.end(),
                     [&](const filling::DrawnDay& draw) { return draw.place == place && draw.is_short(); });
}

// With less water than a hand's breadth over its mouth a tank gives what runs in, and stands a little over
// it.
constexpr double near_mouth_m = 0.1;

/// Whether no tank comes down to its mouth on such a day, or since its float valve opened: what is missing
/// then is missing for another reason.
bool none_empties(const network::System& system, const filling::TypicalDay& day) {
  return fills_day_by_day(day) &&
         std::none_of(day.lowest.begin(), day.lowest.end(), [&](const filling::LowestOfDay& low) {
           return low.level_m <= mouth_m(system, low.tank) + near_mouth_m;
         });
}

}  // namespace

network::System as_it_lasts(const network::System& drawn, const FlowVerdict& verdict) {
  network::System lasting = drawn;
  if (verdict.after_siphons)
    for (const BrokenSiphon& siphon : verdict.after_siphons->broken)
      lasting = network::with_open_line(lasting, siphon.line);
  return lasting;
}

network::System as_siphons_leave(const network::System& system) {
  FlowVerdict siphons;
  siphons.after_siphons = follow_siphons(system, steady::solve(system));
  return as_it_lasts(system, siphons);
}

filling::TypicalDay followed_day(const network::System& drawn, const FlowVerdict& verdict) {
  return filling::typical_day(as_it_lasts(drawn, verdict));
}

bool always_drawn(const network::System& system, const std::string& place) {
  const network::Joint* joint = system.joint(place);
  return joint && std::all_of(joint->draws.begin(), joint->draws.end(), network::all_day);
}

std::string short_on(const filling::TypicalDay& day) {
  for (const filling::DrawnDay& draw : day.draws)
    if (draw.is_short()) return draw.place;
  return day.sinking;
}

bool fills_day_by_day(const filling::TypicalDay& day) {
  return day.known && day.proved && !day.lowest.empty() && day.sinking.empty();
}

bool lasts_day_by_day(const filling::TypicalDay& day) {
  return fills_day_by_day(day) && short_on(day).empty();
}

bool bridges_the_hours(const network::System& system, const filling::TypicalDay& day) {
  return fills_day_by_day(day) && (short_on(day).empty() || none_empties(system, day));
}

bool day_speaks_for(const network::System& system, const filling::TypicalDay& day,
                    const std::vector<AskResult>& asks) {
  return bridges_the_hours(system, day) && std::all_of(asks.begin(), asks.end(), [&](const AskResult& r) {
           if (!r.judged || !r.met || r.ask.kind != network::AskKind::flow) return true;
           return !short_at(day, r.ask.at) && is_drawn(system, r.ask);
         });
}

std::vector<std::string> spare_what_is_drawn(const network::System& system, const filling::TypicalDay& day,
                                             const std::vector<AskResult>& at_first,
                                             std::vector<AskResult>& asks) {
  const bool bridges = bridges_the_hours(system, day), empties_none = none_empties(system, day);
  const auto comes = [&](const network::Ask& ask) {
    const bool followed = std::any_of(day.draws.begin(), day.draws.end(),
                                      [&](const filling::DrawnDay& draw) { return draw.place == ask.at; });
    return empties_none ||
           (!short_at(day, ask.at) && (bridges || (followed && ask.kind == network::AskKind::flow)));
  };
  std::vector<std::string> wider;
  for (std::size_t i = 0; i < asks.size(); ++i) {
    const network::Ask& ask = asks[i].ask;
    if (!comes(ask)) continue;
    const bool drawn = is_drawn(system, ask);
    if (!asks[i].met_until_s) {
      if (drawn || bridges) asks[i].hangs_on = at_first[i].hangs_on;  // no tank comes to stand empty
      continue;
    }
    if (!drawn && !(bridges && lasts_opened_wider(system, asks[i]))) continue;
    if (!drawn) wider.push_back(ask.at);
    asks[i] = at_first[i];
  }
  return wider;
}

namespace {

/// Whether taps of which more is asked than is drawn may be opened so far in all their hours, day after day.
bool lasts_opened_so_far(const network::System& lasting, const std::vector<std::string>& places) {
  const network::System every_day = network::with_asked_draws(lasting);
  const filling::TypicalDay day = filling::typical_day(every_day);
  const bool all_get_it = std::none_of(places.begin(), places.end(),
                                       [&](const std::string& place) { return short_at(day, place); });
  return all_get_it && bridges_the_hours(every_day, day);
}

void opened_so_far_only(const std::string& place, const std::string& tank, FlowVerdict& verdict) {
  Draft d(asked_more_than_drawn_rule, Severity::warning);
  d.at_place(place);
  d.message.name(place).say(" gets what is asked there, which is more than is drawn, from a full ");
  d.message.name(tank).say(". Taken so every day it would be too much.");
  d.advice.say("Write what is really drawn at ").name(place);
  d.advice.say(", or open it so far only while ").name(tank).say(" is full.");
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence()
                                       .say("as long as ")
                                       .name(place)
                                       .say(" is opened so far only while ")
                                       .name(tank)
                                       .say(" is full"));
}

/// The first tank that gives to a place; none if none does.
const network::Tank* tank_above(const network::System& system, const std::string& place) {
  for (const network::Tank& tank : system.tanks())
    if (!tank.held && gives_to(system.model(), tank.name, place)) return &tank;
  return nullptr;
}

}  // namespace

void hold_to_now_and_then(const network::System& drawn, const std::vector<std::string>& places,
                          FlowVerdict& verdict) {
  if (places.empty() || !verdict.lasting) return;
  if (lasts_opened_so_far(as_it_lasts(drawn, verdict), places)) return;
  opened_so_far_only(places.front(), verdict.lasting->stores.back().tank, verdict);
}

namespace {

/// The first tap of which more is asked than is drawn, and which may not be opened so far every day.
void hold_openings_to(const network::System& there, FlowVerdict& verdict) {
  for (std::size_t o = 0; o < there.outlets().size(); ++o) {
    const std::string& place = there.outlets()[o].name;
    const network::Tank* tank = tank_above(there, place);
    if (!there.opened_above_draws(static_cast<int>(o)) || !tank || verdict.misses_at(place)) continue;
    if (!lasts_day_by_day(filling::typical_day(there))) return;
    if (lasts_opened_so_far(there, {place})) continue;
    opened_so_far_only(place, tank->name, verdict);
    return;
  }
}

}  // namespace

void hold_openings_to_dry_time(const network::System& all_day, FlowVerdict& verdict) {
  const auto told = [&] {
    return std::any_of(verdict.findings.begin(), verdict.findings.end(),
                       [](const Finding& f) { return f.code == asked_more_than_drawn_rule.code; });
  };
  if (told()) return;
  if (!all_day.year()) return hold_openings_to(as_siphons_leave(all_day), verdict);
  for (const std::size_t p : dry::hardest_of(all_day, dry::unlike_periods(all_day)))
    if (!told()) hold_openings_to(as_siphons_leave(network::in_period(all_day, p)), verdict);
}

Finding hours_not_followed(filling::HoursLost lost) {
  Draft d(hours_not_judged_rule, Severity::warning);
  d.message.say("Whether what is drawn comes in the hours in which it is drawn was not judged: ")
      .say(lost == filling::HoursLost::levels ? "the hours could not be followed."
                                              : "the flows at some hour did not settle.");
  d.advice.say("Run `runnel fill`.");
  return d.done();
}

void judge_drawn_hours(const network::System& system, const filling::TypicalDay& day, FlowVerdict& verdict) {
  if (!day.known) {
    if (day.lost) verdict.findings.push_back(hours_not_followed(*day.lost));
    return;
  }
  if (!day.proved) verdict.findings.push_back(filling_unproved());
  if (!day.sinking.empty() && !verdict.misses_at(day.sinking)) verdict.findings.push_back(sinks(day.sinking));
  for (const filling::DrawnDay& draw : day.draws)
    // What the steady state leaves a joint short of that is always drawn is told of that state.
    if (draw.is_short() && !verdict.misses_at(draw.place) && !always_drawn(system, draw.place))
      verdict.findings.push_back(missed(draw));
  if (auto beyond = drawn_beyond_springs(system, day, verdict))
    verdict.findings.push_back(std::move(*beyond));
}

void weigh_drawn_hours(const network::System& drawn, const filling::TypicalDay& day, FlowVerdict& verdict) {
  if (!day.known || day.draws.empty() || !short_on(day).empty()) return;
  const auto short_at = [&](const network::Unknowns& unknown) {
    const auto there = network::at_corner(drawn, network::Corner::bad, unknown);
    return there ? dry::short_of_draws(dry::day_of(*there.value)) : std::string();
  };
  const std::string place = short_at({});
  if (place.empty()) return;
  const std::string condition =
      turned_alone_by(drawn, [&](const network::Unknowns& unknown) { return !short_at(unknown).empty(); });
  Draft d(draws_met_only_if_rule, Severity::warning);
  d.at_place(place);
  d.message.name(place).say(" gets what is drawn there only " + condition + ".");
  d.advice.say("Store more, choose a pipe that leaves more, or take the condition as part of the promise.");
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence().say(condition));
}

std::vector<Code> drawn_hours_codes() {
  return {draw_missed_rule,      tank_sinks_rule,        drawn_beyond_springs_rule,
          hours_not_judged_rule, draws_met_only_if_rule, asked_more_than_drawn_rule};
}

}  // namespace runnel::verdict
