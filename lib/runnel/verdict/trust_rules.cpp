// What would make a bad system look good: nothing comes, a line nobody walked, friction constants of the
// model's own, claims that are compared with nothing.
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "runnel/network/floats.h"
#include "runnel/network/no_flow.h"
#include "runnel/network/seen_ground.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/say_others.h"
#include "runnel/verdict/shut_words.h"

namespace runnel::verdict {
namespace {

constexpr Code no_water_arrives_rule{
    "no-water-arrives",
    "nothing comes out anywhere",
    "No tap, tank or draw gets any water, and not because every tap is shut.",
    "A system that gives nothing is not a good one just because the model asks for nothing.",
    "See which line is shut, blocked or dry, and why.",
    "continuity",
    Filling::follows};

constexpr Code line_not_surveyed_rule{
    "line-not-surveyed",
    "a line that nobody walked",
    "Only the ends of a line are known, or only its length: it is taken straight between them.",
    "One high point in between can halve the flow or stop it, and traps air; none of that is judged.",
    "Walk the line and give its points under `survey`.",
    "common practice, no source"};

constexpr Code only_ends_surveyed_rule{
    "only-ends-surveyed",
    "a long line of which only the ends are surveyed",
    "The survey has a point at each end and none between, or all but a small part of the line lies between "
    "two points, and that is farther than a person sees at a glance; or two neighbouring points lie more "
    "than a kilometre apart.",
    "One high point in between can halve the flow or stop it, and traps air; none of that is judged.",
    "Walk the line and give its points under `survey`: every rise and dip.",
    "common practice, no source"};

constexpr Code friction_constants_unusual_rule{
    "friction-constants-unusual",
    "friction constants that no book has",
    "The model sets k, n or m of the Hazen-Williams law outside every published set.",
    "A small k makes any pipe carry anything: the flows are then not those of real pipe.",
    "Leave the constants out, or use a published set.",
    "published sets [savic-walters1997, from memory]"};

constexpr Code claims_not_judged_rule{
    "claims-not-judged",
    "claims that nothing is set beside",
    "The model quotes a proposal under `claims`, and this command only names them.",
    "A claim that stands unchallenged beside an answer looks as if it had been checked.",
    "Run `runnel review`, which sets each beside its own figure.",
    "the model's own claims"};

constexpr Code float_opening_taken_rule{
    "float-opening-taken",
    "a float valve of which only one level is known",
    "The model does not say at which level a float valve opens again; it is taken to open where it shuts.",
    "Such a float hunts: it opens for every cup of water. Real ones have some play, and the level falls that "
    "far before the tank is filled again.",
    "Write `opens_at` as the float's arm has it.",
    "common practice, no source"};

// Hazen-Williams constants in print: k from 10.5088 to 10.9031 [savic-walters1997, from memory], n 1.85 to
// 1/0.54, m 4.87 to 4.871 with their roundings.
constexpr double least_k = 10.5, most_k = 10.95;
constexpr double least_n = 1.849, most_n = 1.853, least_m = 4.865, most_m = 4.872;

/// The stretch between two points of the survey that is nearly all of the line and longer than one sees.
std::optional<std::pair<double, double>> gap_not_walked(const network::Line& line) {
  const double whole_m = (line.survey.back().station - line.survey.front().station).metres();
  for (std::size_t i = 1; i < line.survey.size(); ++i) {
    const double from_m = line.survey[i - 1].station.metres(), to_m = line.survey[i].station.metres();
    if (to_m - from_m > network::farthest_apart_m(whole_m)) return std::pair{from_m, to_m};
  }
  return std::nullopt;
}

Finding hardly_surveyed(const network::Line& line, const std::pair<double, double>& gap) {
  Draft d(only_ends_surveyed_rule, Severity::warning);
  d.on_line(line.name);
  d.message.name(line.name).say(" is not surveyed between ").figure(Kind::length, gap.first);
  d.message.say(" and ").figure(Kind::length, gap.second);
  d.message.say(": a high point there would not be seen.");
  d.advice.say("Walk it with a level and write down every rise and dip.");
  return d.done();
}

}  // namespace

void nothing_arrives(const Case& c, Findings& out) {
  if (!c.asks.empty()) return;  // the findings on needs say it
  const auto comes = [](const steady::PlaceState& p) {
    return std::max({p.flow_m3s, p.kind == network::PlaceKind::tank ? p.inflow_m3s : 0.0, p.draw_given_m3s}) >
           network::no_flow_m3s;
  };
  for (const auto* places : {&c.state.outlets, &c.state.tanks, &c.state.joints})
    if (std::any_of(places->begin(), places->end(), comes)) return;
  if (every_tap_shut(c.system)) return;  // the model does so on purpose
  Draft d(no_water_arrives_rule, Severity::error);
  d.message.say("No water arrives anywhere.");
  const bool blocked = std::any_of(c.state.lines.begin(), c.state.lines.end(), [](const auto& line) {
    return line.condition == steady::LineCondition::blocked;
  });
  if (!blocked)  // else the line that is blocked says what to do
    d.advice.say(
        "See that every valve on the way is open, that no high point stands above the spring, and that the "
        "spring gives water.");
  out.push_back(d.done());
}

void lines_not_surveyed(const Case& c, Findings& out) {
  for (const network::Line& line : c.system.lines()) {
    const bool two_points = line.surveyed && line.survey.size() == 2;
    if (line.surveyed && !two_points) {
      if (const auto gap = gap_not_walked(line)) out.push_back(hardly_surveyed(line, *gap));
      continue;
    }
    const bool seen =
        two_points && line.course.last_m() - line.course.first_m() <= network::seen_at_a_glance_m;
    const bool long_way = two_points && !seen;
    Draft d(long_way ? only_ends_surveyed_rule : line_not_surveyed_rule,
            seen ? Severity::note : Severity::warning);
    d.on_line(line.name);
    d.message.name(line.name).say(
        line.surveyed ? " is surveyed at its two ends only: a high point between them would not be seen."
                      : " is taken straight between its ends, since only its length is given: high points "
                        "and trapped air on it are not judged.");
    d.advice.say("Walk it with a level and write down every rise and dip.");
    out.push_back(d.done());
  }
}

void unusual_friction_constants(const Case& c, Findings& out) {
  const losses::FrictionLaw& law = c.system.friction();
  if (law.law != losses::Law::hazen_williams) return;
  const bool usual = law.k >= least_k && law.k <= most_k && law.n >= least_n && law.n <= most_n &&
                     law.m >= least_m && law.m <= most_m;
  if (usual) return;
  Draft d(friction_constants_unusual_rule, Severity::error);
  d.message.say("The model sets Hazen-Williams constants of its own, k = ").figure(Kind::number, law.k);
  d.message.say(", n = ").figure(Kind::number, law.n).say(", m = ").figure(Kind::number, law.m);
  d.message.say(", which no published set has: the flows shown are not those of real pipe.");
  d.advice.say("Leave them out, or use a published set.");
  d.source("published sets lie between k = 10.5088 and 10.9031 [savic-walters1997, from memory]");
  d.against({Kind::number, law.k}, {Kind::number, law.k < least_k ? least_k : most_k});
  out.push_back(d.done());
}

void claims_not_judged(const Case& c, Findings& out) {
  if (c.system.claims().empty()) return;
  Draft d(claims_not_judged_rule, Severity::warning);
  const std::size_t n = c.system.claims().size();
  d.message.say(n == 1 ? "The model quotes a claim of a proposal, about "
                       : "The model quotes " + std::to_string(n) + " claims of a proposal, about ");
  for (std::size_t i = 0; i < std::min(n, most_named); ++i)
    d.message.say(i == 0 ? "" : ", ").name(c.system.claims()[i].at);
  d.message.say(n > most_named ? " and others." : ".");
  d.advice.say(
      "`runnel review` sets each claim beside the figure that comes out here, with the likely reason.");
  out.push_back(d.done());
}

void float_openings_taken(const Case& c, Findings& out) {
  for (const network::Tank& tank : c.system.tanks()) {
    const auto floats = network::floats_of(c.system.model(), tank);
    if (std::all_of(floats.begin(), floats.end(), [](const auto& valve) { return valve.opens_stated; }))
      continue;
    Draft d(float_opening_taken_rule, Severity::note);
    d.at_place(tank.name);
    d.message.say("Nobody says at which level the float valve of ").name(tank.name);
    d.message.say(" opens again: it is taken to open where it shuts.");
    d.advice.say("Write its `opens_at`.");
    out.push_back(d.done());
  }
}

std::vector<Code> trust_codes() {
  return {no_water_arrives_rule,           line_not_surveyed_rule, only_ends_surveyed_rule,
          friction_constants_unusual_rule, claims_not_judged_rule, float_opening_taken_rule};
}

}  // namespace runnel::verdict
