// How fast the water runs, and whether what is asked for comes.
#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "runnel/review/measure.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/use_states.h"
#include "runnel/verdict/velocity_asks.h"

namespace runnel::review {

namespace {

// Slower water is as good as still: a thousandth of the slowest that any rule asks for.
constexpr double still_ms = 1e-3;

/// The fastest full reach of a line that runs.
const steady::Reach* fastest_reach(const network::System& system, const steady::State& state,
                                   const network::Line& line) {
  const steady::LineState* run = verdict::run_of(system, state, line);
  if (!run) return nullptr;
  const steady::Reach* fastest = nullptr;
  for (const steady::Reach& r : run->reaches)
    if (r.state == steady::ReachState::full &&
        (!fastest || std::fabs(r.velocity_ms) > std::fabs(fastest->velocity_ms)))
      fastest = &r;
  return fastest && std::fabs(fastest->velocity_ms) > still_ms ? fastest : nullptr;
}

/// As drawn, and up to the most while other float valves and taps are open.
std::vector<Measured> velocity(const Seen& seen) {
  std::map<std::string, double> most_ms;
  for (const verdict::UseState& use : verdict::use_states(seen.system))
    for (const network::Line& line : use.system.lines())
      if (const steady::Reach* fastest = fastest_reach(use.system, use.state, line))
        most_ms[line.name] = std::max(most_ms[line.name], std::fabs(fastest->velocity_ms));
  std::vector<Measured> out;
  for (const network::Line& line : seen.system.lines()) {
    const steady::Reach* fastest = fastest_reach(seen.system, seen.state, line);
    if (!fastest) continue;
    const double drawn_ms = std::fabs(fastest->velocity_ms);
    out.push_back(between({"", line.name, "", fastest->from_m}, drawn_ms, drawn_ms,
                          std::max(drawn_ms, most_ms[line.name])));
  }
  return out;
}

/// What it gets of what is asked, and between the corners of what nobody knows exactly.
Measured between_corners(const Where& where, const verdict::AskResult& result) {
  const double asked = result.asked.si;
  Measured share = exactly(where, result.got ? result.got->si / asked : 0.0);
  if (!result.range) return share;
  share.low = std::min(share.low, result.range->bad.si / asked);
  share.high = std::max(share.high, result.range->good.si / asked);
  return share;
}

std::vector<Measured> share_of_asks(const Seen& seen) {
  std::vector<Measured> out;
  for (const verdict::AskResult& result : seen.verdict.asks) {
    if (result.ask.kind == network::AskKind::full_within || result.cut_off) continue;
    const Where where{result.ask.at};
    if (!result.judged)
      out.push_back(lacking(where, result.why_not_judged));
    else if (result.asked.si > 0.0)
      out.push_back(between_corners(where, result));
  }
  for (const verdict::VelocityResult& r : verdict::judge_velocities(seen.system, seen.state))
    out.push_back(
        exactly({"", r.line, "", r.station_m}, r.at_most ? r.asked_ms / r.got_ms : r.got_ms / r.asked_ms));
  return out;
}

std::vector<Measured> filling_time(const Seen& seen) {
  std::vector<Measured> out;
  for (const verdict::AskResult& result : seen.verdict.asks) {
    if (result.ask.kind != network::AskKind::full_within || result.cut_off) continue;
    const Where where{result.ask.at};
    const double within_s = result.ask.within.seconds();
    if (!result.judged) {
      out.push_back(lacking(where, result.why_not_judged));
      continue;
    }
    std::optional<double> full_s = result.got ? std::optional(result.got->si) : std::nullopt;
    const auto* tank = seen.fill ? seen.fill->storage(result.ask.at) : nullptr;
    // A run without trapped air may fill even a way that the air blocks: only one that is late counts.
    if (!full_s && tank && tank->full_after_s && *tank->full_after_s > within_s) full_s = tank->full_after_s;
    constexpr double never = 1e6;  // beyond any time
    out.push_back(exactly(where, full_s ? *full_s / within_s : never));
  }
  return out;
}

std::vector<Measured> tap_flow(const Seen& seen) {
  std::vector<Measured> out;
  for (std::size_t i = 0; i < seen.state.outlets.size(); ++i)
    if (!seen.system.outlets()[i].shut)
      out.push_back(exactly({seen.state.outlets[i].name}, seen.state.outlets[i].flow_m3s));
  return out;
}

}  // namespace

std::vector<Measure> flow_measures() {
  return {
      {"velocity", Kind::velocity,
       "fastest full reach of each line that runs, and how fast it gets while taps and float valves are open "
       "otherwise",
       velocity},
      {"share of what is asked", Kind::percent, "what a place gets of what is asked there", share_of_asks},
      {"filling time over time asked", Kind::percent, "of each tank that is to be full in time",
       filling_time},
      {"flow of an open tap", Kind::flow, "of each outlet that is open", tap_flow},
  };
}

}  // namespace runnel::review
