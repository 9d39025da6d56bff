#include "answer.h"

#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>
#include <unistd.h>

#include "exit_code.h"
#include "output.h"
#include "patience.h"
#include "ruling_code.h"
#include "runnel/report/json.h"
#include "runnel/report/proof_words.h"
#include "runnel/report/text.h"
#include "runnel/steady/state.h"

namespace cli {
namespace {

// How the calculation went, on standard error.
void log_history(const runnel::steady::State& state) {
  spdlog::logger log("runnel", std::make_shared<spdlog::sinks::stderr_sink_st>());
  log.set_pattern("runnel: %v");
  for (const auto& step : state.history)
    log.info("step {:2}: water out of balance {:.3e} m3/s, head {:.3e} m, share of step taken {:.3g}",
             step.number, step.continuity_m3s, step.energy_m, step.step);
  for (const std::string& check : runnel::report::proof_words(state.proof)) log.info("checked: {}", check);
}

}  // namespace

int answer(const Common& common, const runnel::network::Model& model,
           const runnel::verdict::AnswerOptions& options, runnel::units::UnitSystem written_in) {
  const auto answered = patiently("looking for the steady state",
                                  [&] { return runnel::verdict::answer_model(model, options); });
  if (!answered) return refuse(common, answered.findings);
  if (common.verbose) log_history(answered.value->leading().state);
  const std::string text = patiently("putting the answer into words", [&] {
    return common.json ? runnel::report::answer_json(*answered.value)
                       : runnel::report::answer_text(*answered.value,
                                                     text_options(common, written_in, STDOUT_FILENO));
  });
  const int written = write(text, common.output);
  return written == good ? code_of(answered.value->ruling()) : written;
}

}  // namespace cli
