#include "runnel/verdict/velocity_asks.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/base/constants.h"
#include "runnel/steady/solver.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

constexpr Code faster_than_asked_rule{
    "faster-than-asked",
    "the water runs faster than the owner lets it",
    "Somewhere along the line the flow, spread over the whole bore, runs faster than `velocity_at_most` of "
    "the asks.",
    "Whoever wrote that bound wants to keep hammer, noise, wear or loss down.",
    "Take a pipe of at least the bore named on that stretch, or draw less through it.",
    "the model's own asks",
    Filling::follows};

constexpr Code slower_than_asked_rule{
    "slower-than-asked",
    "the water runs slower than the owner wants it",
    "Somewhere along the line the flow, spread over the whole bore, runs slower than `velocity_at_least` of "
    "the asks.",
    "Whoever wrote that bound wants sand and air to be carried along.",
    "Take a pipe of at most the bore named on that stretch, or draw more through it.",
    "the model's own asks",
    Filling::follows};

// A line that carries all but a hundredth of what it can is limited by itself.
constexpr double capacity_taken = 0.01;
// So many lines are tried with another bore: nobody reads the advice on more.
constexpr std::size_t most_tried = 12;

/// The bore at which that flow would just run as fast as asked.
double bore_for(const VelocityResult& r) { return std::sqrt(4.0 * r.flow_m3s / (pi * r.asked_ms)); }

/// Where the pipe itself limits the flow another bore brings another flow, and the bore above is no promise.
bool pipe_limits(const VelocityResult& r) {
  return r.pipe_limits.value_or(r.capacity_m3s <= r.flow_m3s * (1.0 + capacity_taken));
}

/// Lays the bore that the advice would name: it promises something only if the same water still comes.
void try_bores(const network::System& system, std::vector<VelocityResult>& results) {
  std::optional<steady::Solver> solver;
  std::size_t tried = 0;
  for (VelocityResult& r : results) {
    if (r.met || tried == most_tried) continue;
    ++tried;
    if (!solver) solver.emplace(system);
    const int l = *system.find_line(r.line);
    const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
    const int p = line.course.pipe_at(r.station_m);
    const pipes::Pipe laid = line.pipes[static_cast<std::size_t>(p)].pipe;
    pipes::Pipe other = laid;
    other.bore = Length::metres(bore_for(r));
    if (!solver->lay(l, p, other)) continue;
    const steady::Flows& flows = solver->solve();
    const double then_m3s = std::abs(flows.line_m3s[static_cast<std::size_t>(l)]);
    if (flows.outcome == steady::Outcome::settled)
      r.pipe_limits = std::abs(then_m3s - r.flow_m3s) > capacity_taken * r.flow_m3s;
    solver->lay(l, p, laid);
  }
}

Sentence advice_on(const VelocityResult& r) {
  Sentence s;
  if (pipe_limits(r))
    return s.say(
        r.at_most ? "The pipe runs as full as its fall drives it: throttle it at its lower end, or draw less."
                  : "The pipe runs as full as its fall drives it, and a narrower one is slower still: "
                    "a larger pipe or more fall makes it faster.");
  if (r.at_most && !r.pipe_limits)
    return s.say("Throttle it at its lower end, or draw less. Pipe with a bore of at least ")
        .least(Kind::bore, bore_for(r))
        .say(" is slow enough only if no more water runs in it then.");
  s.say(r.at_most ? "Lay pipe with a bore of at least " : "Lay pipe with a bore of at most ");
  s.figure({Kind::bore, bore_for(r), r.at_most});
  return s.say(r.at_most ? " there, or draw less." : " there, or draw more.");
}

Finding beyond(const VelocityResult& r) {
  Draft d(r.at_most ? faster_than_asked_rule : slower_than_asked_rule, Severity::error);
  d.on_line(r.line, r.station_m).against({Kind::velocity, r.got_ms}, {Kind::velocity, r.asked_ms});
  d.message.say("Water runs at ").figure(Kind::velocity, r.got_ms).say(" in ").name(r.line).say(" from ");
  d.message.figure(Kind::length, r.station_m).say(r.at_most ? " on, and at most " : " on, and at least ");
  d.message.figure(Kind::velocity, r.asked_ms).say(" is asked.");
  d.advice.append(advice_on(r));
  return d.done();
}

}  // namespace

std::vector<VelocityResult> judge_velocities(const network::System& system, const steady::State& state) {
  std::vector<VelocityResult> results;
  const auto judge = [&](const network::Line& line, bool at_most, double asked_ms) {
    const steady::LineState* run = run_of(system, state, line);
    if (!run) return;
    const steady::Reach* worst = nullptr;
    for (const steady::Reach& reach : run->reaches) {
      const double v = std::abs(reach.velocity_ms);
      if (v > 0.0 &&
          (!worst || (at_most ? v > std::abs(worst->velocity_ms) : v < std::abs(worst->velocity_ms))))
        worst = &reach;
    }
    if (!worst) return;
    VelocityResult r{
        line.name, worst->from_m, at_most, asked_ms, std::abs(worst->velocity_ms), std::abs(run->flow_m3s)};
    // What stands at a joint depends on what is drawn behind it, and so says nothing of the pipe before it.
    const bool to_joint = system.joint(run->flow_m3s > 0.0 ? line.to : line.from);
    constexpr double endless_m3s = std::numeric_limits<double>::infinity();
    r.capacity_m3s = to_joint ? endless_m3s : run->capacity_m3s.value_or(endless_m3s);
    r.met = at_most ? r.got_ms <= asked_ms * (1.0 + rounding) : r.got_ms >= asked_ms * (1.0 - rounding);
    results.push_back(std::move(r));
  };
  for (const network::VelocityAsk& ask : system.model().velocity_asks)
    for (const network::Line& line : system.lines()) {
      if (!ask.in.empty() && ask.in != line.name) continue;
      if (ask.at_most) judge(line, true, ask.at_most->si());
      if (ask.at_least) judge(line, false, ask.at_least->si());
    }
  return results;
}

const Code& velocity_code(const VelocityResult& result) {
  return result.at_most ? faster_than_asked_rule : slower_than_asked_rule;
}

std::vector<Finding> velocity_findings(const std::vector<VelocityResult>& results) {
  std::vector<Finding> out;
  for (const VelocityResult& r : results)
    if (!r.met) out.push_back(beyond(r));
  return out;
}

bool is_of_velocity(const Finding& finding) {
  return finding.code == faster_than_asked_rule.code || finding.code == slower_than_asked_rule.code ||
         finding.code == "velocity-missed-in-year";
}

void velocities_not_met(const Case& c, Findings& out) {
  auto results = judge_velocities(c.system, c.state);
  try_bores(c.system, results);
  for (Finding& finding : velocity_findings(results)) out.push_back(std::move(finding));
}

std::vector<Code> velocity_codes() { return {faster_than_asked_rule, slower_than_asked_rule}; }

}  // namespace runnel::verdict
