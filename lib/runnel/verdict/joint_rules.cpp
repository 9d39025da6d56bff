// What is lost where pipes meet: at tees, and at parts that sit where the bore changes.
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

constexpr Code tee_not_counted_rule{
    "tee-not-counted",
    "what a tee costs is not counted",
    "Lines meet in a joint without loss. Here three or more run, and the velocity head is more than a "
    "hundredth of what one of them has to spend.",
    "Turning into the branch of a tee costs about a velocity head. That is little in a long line and much "
    "in a short one, so the water divides otherwise than was worked out.",
    "Name the two pipelines that lie straight through the tee under `straight` of the joint. The run and "
    "the branches are then counted.",
    "a hundredth of the head: own rule. Run and branch of a tee: [crane-tp410], from memory"};

constexpr Code part_where_bore_changes_rule{
    "part-where-bore-changes",
    "a part sits where the bore changes",
    "A loss coefficient belongs to a bore. At a change of pipe it is taken on the one that begins there.",
    "On the narrower pipe the same K costs more, by the fourth power of the bores.",
    "If the part sits in the pipe before, write its station a little before the change.",
    ""};

// A smaller share of the head is less than a survey and a roughness are known to.
constexpr double worth_counting = 0.01;

/// A line of a joint as it runs there.
struct Leg {
  const network::Line* line = nullptr;
  double velocity_head_m = 0.0;
  double spent_m = 0.0;  ///< head between the joint and the line's other end
};

std::optional<double> head_at(const network::System& system, const steady::State& state, int place) {
  if (const network::Outlet* outlet = system.outlet(place)) return outlet->elevation.metres();
  const steady::PlaceState& seen = network::place_state(system, state, place);
  return seen.level_m ? seen.level_m : seen.grade_m;
}

std::vector<Leg> legs_at(const Case& c, int place, double grade_m) {
  std::vector<Leg> legs;
  for (const int l : c.system.lines_at(place)) {
    const network::Line& line = c.system.lines()[static_cast<std::size_t>(l)];
    const double flow_m3s = std::abs(c.state.lines[static_cast<std::size_t>(l)].flow_m3s);
    if (flow_m3s <= network::no_flow_m3s) continue;
    const bool starts = line.from == place;
    const double bore_m = (starts ? line.pipes.front() : line.pipes.back()).pipe.bore.metres();
    const double velocity_ms = flow_m3s / (0.25 * pi * bore_m * bore_m);
    const auto far_m = head_at(c.system, c.state, starts ? line.to : line.from);
    if (!far_m) continue;
    legs.push_back({&line, velocity_ms * velocity_ms / (2.0 * gravity_ms2), std::abs(grade_m - *far_m)});
  }
  return legs;
}

Finding not_counted(const std::string& joint, const Leg& leg, double velocity_head_m) {
  Draft d(tee_not_counted_rule, Severity::note);
  d.at_place(joint).against({Kind::head, velocity_head_m}, {Kind::head, worth_counting * leg.spent_m});
  d.message.say("At ")
      .name(joint)
      .say(" the water has a velocity head of ")
      .figure(Kind::head, velocity_head_m)
      .say(", more than a hundredth of the ")
      .figure(Kind::head, leg.spent_m)
      .say(" that ")
      .name(leg.line->name)
      .say(" has to spend. What turning and running on cost in the tee is not counted.");
  d.advice.say("Name the two pipelines that lie straight through it, and it is: `straight: [..., ...]`.");
  return d.done();
}

}  // namespace

/// A tee counts only where three lines or more run; where the water only changes pipe there is a reducer.
void tees_not_counted(const Case& c, Findings& out) {
  if (c.state.lines.size() != c.system.lines().size()) return;
  for (std::size_t j = 0; j < c.system.joints().size() && j < c.state.joints.size(); ++j) {
    const network::Joint& joint = c.system.joints()[j];
    const auto& grade_m = c.state.joints[j].grade_m;
    if (!joint.straight.empty() || !grade_m) continue;
    const std::vector<Leg> legs = legs_at(c, c.system.joint_place(static_cast<int>(j)), *grade_m);
    if (legs.size() < 3) continue;
    const auto fastest = std::max_element(legs.begin(), legs.end(), [](const Leg& a, const Leg& b) {
      return a.velocity_head_m < b.velocity_head_m;
    });
    const auto shortest = std::min_element(legs.begin(), legs.end(),
                                           [](const Leg& a, const Leg& b) { return a.spent_m < b.spent_m; });
    if (fastest->velocity_head_m > worth_counting * shortest->spent_m)
      out.push_back(not_counted(joint.name, *shortest, fastest->velocity_head_m));
  }
}

/// A part's loss counts on the bore by which the water leaves it, which matters where the bore changes there.
void parts_where_the_bore_changes(const Case& c, Findings& out) {
  for (const network::Line& line : c.system.lines())
    for (const network::FittedPart& part : line.parts) {
      if (!(part.k > 0.0)) continue;
      for (std::size_t p = 1; p < line.pipes.size(); ++p) {
        const Length before = line.pipes[p - 1].pipe.bore, behind = line.pipes[p].pipe.bore;
        if (std::abs((line.pipes[p].from - part.at).metres()) > network::same_station_m || before == behind)
          continue;
        Draft d(part_where_bore_changes_rule, Severity::note);
        d.on_line(line.name, part.at.metres());
        d.message.say("The loss of ").name(part.name.empty() ? part.type : part.name).say(", K = ");
        d.message.figure(Kind::number, part.k).say(", is counted on the bore of ");
        d.message.figure(Kind::bore, behind.metres()).say(" that begins there, not on the ");
        d.message.figure(Kind::bore, before.metres()).say(" before it.");
        d.advice.say("If it sits in the other pipe, write its station a little before the change.");
        out.push_back(d.done());
      }
    }
}

std::vector<Code> joint_codes() { return {tee_not_counted_rule, part_where_bore_changes_rule}; }

}  // namespace runnel::verdict
