#include "answer.h"

#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>
#include <unistd.h>

#include "exit_code.h"
#include "output.h"
#include "patience.h"
#include "runnel/report/json.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/flow_verdict.h"

namespace cli {
namespace {

// How the calculation went, on standard error.
void log_history(const runnel::steady::State& state) {
  spdlog::logger log("runnel", std::make_shared<spdlog::sinks::stderr_sink_st>());
  log.set_pattern("runnel: %v");
  for (const auto& step : state.history)
    log.info("step {:2}: water out of balance {:.3e} m3/s, head {:.3e} m, share of step taken {:.3g}",
             step.number, step.continuity_m3s, step.energy_m, step.step);
  for (const std::string& check : state.proof.checks) log.info("checked: {}", check);
}

int code_of(const runnel::steady::State& state, const runnel::verdict::FlowVerdict& verdict) {
  if (state.outcome != runnel::steady::Outcome::settled) return no_answer;
  if (!state.proof.consistent) return defect;
  return verdict.good ? good : wrong_system;
}

}  // namespace

int answer_flow(const Common& common, const runnel::network::System& system, const std::string& setting,
                runnel::units::System written_in, const std::vector<runnel::Finding>& remarks) {
  const auto state = patiently("looking for the steady state", [&] { return runnel::steady::solve(system); });
  if (common.verbose) log_history(state);
  const auto verdict =
      patiently("weighing the answer", [&] { return runnel::verdict::judge_flow(system, state, remarks); });
  const runnel::report::FlowAnswer answer{system, state, verdict, setting};
  const std::string text = patiently("putting the answer into words", [&] {
    return common.json ? runnel::report::flow_json(answer)
                       : runnel::report::flow_text(answer, text_options(common, written_in, STDOUT_FILENO));
  });
  const int written = write(text, common.output);
  return written == good ? code_of(state, verdict) : written;
}

}  // namespace cli
