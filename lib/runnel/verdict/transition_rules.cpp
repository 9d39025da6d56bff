// Where the flow is neither laminar nor surely turbulent, and no friction law is sure.
#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

#include "runnel/base/constants.h"
#include "runnel/losses/friction.h"
#include "runnel/losses/friction_factor.h"
#include "runnel/losses/transition.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/say_others.h"

namespace runnel::verdict {
namespace {

constexpr Code friction_transition_rule{
    "friction-transition",
    "the friction loss is uncertain",
    "The flow is neither smooth nor fully turbulent: its Reynolds number lies between 2000 and 4000, "
    "where turbulence comes and goes in puffs.",
    "No formula is sure there. Ours joins the laminar law to the turbulent one and lies up to about a "
    "quarter below the formula of Churchill, which runs through all regimes: so much more may be lost.",
    "Leave a margin: a need that is met by less than that is not sure.",
    "Reynolds number from 2000 to 4000; Churchill 1977 [churchill1977; formula secondary]"};

// The range over which the friction law is joined (losses/friction_factor.h).
constexpr double first_reynolds = losses::laminar_end_re, last_reynolds = losses::turbulent_start_re;

struct Doubt {
  double loss_m = 0.0;       ///< all losses of the line, as answered
  double more_m = 0.0;       ///< what more may be lost, in the reaches in transition
  double worst_share = 0.0;  ///< the greatest lack, as a share of Churchill's figure
  double reynolds = 0.0;     ///< where that is
  bool in_transition = false;
};

// Of a reach that is part-full at its top, only the lower part loses by friction at full bore.
double full_share(const steady::Reach& reach) {
  if (!reach.refill_station_m || reach.state != steady::ReachState::mixed || !(reach.to_m > reach.from_m))
    return 1.0;
  const double lower_m = reach.velocity_ms > 0.0 ? reach.to_m : reach.from_m;
  const double full_m = std::abs(lower_m - *reach.refill_station_m);
  return std::min(1.0, full_m / (reach.to_m - reach.from_m));
}

Doubt doubt_of(const Case& c, const network::Line& line) {
  Doubt doubt;
  const steady::LineState* run = run_of(c.system, c.state, line);
  if (!run) return doubt;
  const double viscosity_m2s = c.system.site().water.kinematic_viscosity_m2s;
  for (const steady::Reach& reach : run->reaches) {
    if (reach.state != steady::ReachState::full && reach.state != steady::ReachState::mixed) continue;
    const std::size_t index =
        std::min(static_cast<std::size_t>(std::max(reach.pipe, 0)), line.pipes.size() - 1);
    const pipes::Pipe& pipe = line.pipes[index].pipe;
    const double bore_m = pipe.bore.metres(), velocity_ms = std::abs(reach.velocity_ms);
    const double reynolds = velocity_ms * bore_m / viscosity_m2s;
    const double share = full_share(reach);
    doubt.loss_m += share * std::abs(reach.loss_m);
    if (!(reynolds >= first_reynolds && reynolds <= last_reynolds)) continue;
    const double flow_m3s = velocity_ms * 0.25 * pi * bore_m * bore_m;
    const losses::PipeFriction join({}, bore_m, pipe.roughness.metres(), pipe.hazen_c, viscosity_m2s);
    const losses::WorseFriction worse(bore_m, pipe.roughness.metres(), viscosity_m2s);
    const double ours = join.per_metre(flow_m3s).head_m, most = worse.per_metre(flow_m3s).head_m;
    doubt.more_m += share * (most - ours) * reach.length_m;
    if (!doubt.in_transition || 1.0 - ours / most > doubt.worst_share) {
      doubt.worst_share = 1.0 - ours / most;
      doubt.reynolds = reynolds;
    }
    doubt.in_transition = true;
  }
  return doubt;
}

// The lines that the water of a place runs through, against the flow up to boxes and tanks.
std::set<int> lines_before(const Case& c, int place) {
  std::set<int> lines;
  std::vector<int> open{place};
  if (c.system.outlet(place) && c.system.lines_at(place).empty())
    open = {c.system.hangs_on(c.system.place(place).index)};
  while (!open.empty()) {
    const int at = open.back();
    open.pop_back();
    for (int index : c.system.lines_at(at)) {
      const network::Line& line = c.system.lines()[static_cast<std::size_t>(index)];
      const steady::LineState* run = run_of(c.system, c.state, line);
      const bool brings = run && (line.to == at ? run->flow_m3s > 0.0 : run->flow_m3s < 0.0);
      if (!brings || !lines.insert(index).second) continue;
      const int before = line.to == at ? line.from : line.to;
      if (c.system.kind(before) == network::PlaceKind::joint) open.push_back(before);
    }
  }
  return lines;
}

// Met, but by less than the doubt of the lines before it. A flow falls at most as the loss grows, since no
// law of friction rises less than evenly with the flow.
bool thinner_than_doubt(const Case& c, const AskResult& ask, const std::vector<Doubt>& doubts) {
  const auto place = c.system.find_place(ask.ask.at);
  if (!ask.judged || !ask.met || !ask.got || !place) return false;
  double loss_m = 0.0, more_m = 0.0;
  for (int line : lines_before(c, *place)) {
    loss_m += doubts[static_cast<std::size_t>(line)].loss_m;
    more_m += doubts[static_cast<std::size_t>(line)].more_m;
  }
  if (!(more_m > 0.0)) return false;
  if (ask.ask.kind == network::AskKind::pressure)
    return ask.margin_si() < more_m * c.system.site().specific_weight_nm3();
  return ask.ask.kind == network::AskKind::flow && loss_m > 0.0 &&
         ask.margin_si() < ask.got->si * more_m / (loss_m + more_m);
}

}  // namespace

void uncertain_friction(const Case& c, Findings& out) {
  if (c.system.friction().law != losses::Law::darcy_weisbach) return;
  std::vector<Doubt> doubts;
  std::vector<std::string> lines, asks;
  Doubt all;
  for (const network::Line& line : c.system.lines()) {
    const Doubt& doubt = doubts.emplace_back(doubt_of(c, line));
    if (!doubt.in_transition) continue;
    lines.push_back(line.name);
    all.more_m += doubt.more_m;
    if (lines.size() == 1 || doubt.worst_share > all.worst_share) {
      all.worst_share = doubt.worst_share;
      all.reynolds = doubt.reynolds;
    }
  }
  if (lines.empty()) return;
  for (const AskResult& ask : c.asks)
    if (thinner_than_doubt(c, ask, doubts)) asks.push_back(ask.ask.at);
  Draft d(friction_transition_rule, Severity::note);
  if (lines.size() == 1) d.on_line(lines.front());
  d.against({Kind::number, std::round(all.reynolds)}, {Kind::number, last_reynolds});
  d.message.say("The friction loss is uncertain in ");
  d.message.names(lines);
  d.message.say(": at a Reynolds number of ").figure(Kind::number, std::round(all.reynolds));
  d.message.say(" turbulence comes and goes, and the loss worked out here lies ")
      .figure(Kind::percent, all.worst_share);
  d.message.say(" below Churchill's figure. By his ");
  d.message.figure(Kind::head, all.more_m).say(" more would be lost at this flow.");
  if (!asks.empty()) {
    d.message.say(" That is more than the margin of the need at ");
    d.message.names(asks);
    d.message.say(".");
  }
  d.advice.say(asks.empty() ? "Leave a margin for it."
                            : "Take that need as undecided, or choose a pipe that leaves more.");
  d.source(
      "Churchill's formula for all regimes [churchill1977; formula secondary] against our join of the "
      "laminar "
      "and the turbulent law");
  out.push_back(d.done());
}

std::vector<Code> transition_codes() { return {friction_transition_rule}; }

}  // namespace runnel::verdict
