// What a pipe sees if the reducing valve that protects it fails open.
#include <algorithm>

#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/shutting.h"

namespace runnel::verdict {
namespace {

constexpr Code reducing_valve_fails_open_rule{
    "reducing-valve-fails-open",
    "a pipe that depends on a reducing valve",
    "Behind the reducing valve the pipe stands its pressure. If the valve fails open, as old or dirty "
    "ones do, the full height of the water presses there, and that is more than the pipe is rated for.",
    "A pipe that bursts whenever one part fails has no safety of its own.",
    "Put an open break-pressure box in its place, or a relief valve behind it, or take a stronger pipe.",
    "physics; that valves fail open: common practice, no source"};

bool reduces(const network::Part& part) { return part.kind == network::PartKind::reducing_valve; }

/// The system with every reducing valve wide open; none if there is none.
std::optional<network::System> all_open(const network::System& system) {
  network::Model model = system.model();
  bool any = false;
  for (network::Pipeline& line : model.pipelines)
    for (network::Part& part : line.parts) {
      if (!reduces(part)) continue;
      any = true;
      part.kind = network::PartKind::fitting;
      part.loss = part.loss.value_or(0.0);
    }
  if (!any) return std::nullopt;
  return network::resolve(std::move(model)).value;
}

/// The valve to name in the finding: the first of the system. With several, any of them may fail.
const network::FittedPart* first_valve(const network::System& system) {
  for (const network::Line& line : system.lines())
    for (const network::FittedPart& part : line.parts)
      if (reduces(part)) return &part;
  return nullptr;
}

Finding bursts(const Case& c, const network::Line& line, const steady::LinePoint& p, double head_m,
               double rating_pa) {
  const Figure pressure = pressure_of_head(c.system, head_m);
  Draft d(reducing_valve_fails_open_rule, Severity::warning);
  d.on_line(line.name, p.station_m).against(pressure, {Kind::pressure, rating_pa});
  d.message.say("If a reducing valve");
  if (const auto* valve = first_valve(c.system); valve && !valve->name.empty())
    d.message.say(" (").name(valve->name).say(")");
  d.message.say(" fails open, ").name(line.name).say(" stands under ").figure(pressure).say(" at ");
  d.message.figure(Kind::length, p.station_m)
      .say(", and is rated for ")
      .figure(Kind::pressure, rating_pa)
      .say(".");
  d.advice.say("Put an open break-pressure box in its place, a relief valve behind it, or stronger pipe.");
  return d.done();
}

}  // namespace

void reducing_valves_fail_open(const Case& c, Findings& out) {
  const auto failed = all_open(c.system);
  if (!failed) return;
  const steady::State state = steady::solve(*failed);
  if (state.outcome != steady::Outcome::settled) return;
  const Shutting shutting(*failed, state);
  for (std::size_t l = 0; l < state.lines.size(); ++l) {
    const network::Line& line = c.system.lines()[l];
    const steady::LinePoint* worst = nullptr;
    double worst_pa = 0.0, worst_head_m = 0.0, worst_rating_pa = 0.0;
    for (const steady::LinePoint& p : state.lines[l].points) {
      const double standing_m =
          shutting.can_stand(static_cast<int>(l), p.station_m) ? p.static_head_m.value_or(0.0) : 0.0;
      const double head_m = std::max(standing_m, p.pressure_head_m.value_or(0.0));
      const auto rating = allowed_pressure_pa(
          c.system, line.pipes[static_cast<std::size_t>(line.course.pipe_at(p.station_m))].pipe);
      const double over_pa = pressure_of_head(c.system, head_m).si - rating.value_or(0.0);
      if (!rating || over_pa <= worst_pa) continue;
      worst = &p;
      worst_pa = over_pa;
      worst_head_m = head_m;
      worst_rating_pa = *rating;
    }
    const auto named = [&](const Finding& f) {
      return (f.code == "static-above-rating" || f.code == "running-above-rating") &&
             f.where.pipeline == line.name;
    };
    if (worst && std::none_of(out.begin(), out.end(), named))
      out.push_back(bursts(c, line, *worst, worst_head_m, worst_rating_pa));
  }
}

std::vector<Code> reducing_codes() { return {reducing_valve_fails_open_rule}; }

}  // namespace runnel::verdict
