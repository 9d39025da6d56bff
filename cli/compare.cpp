// `runnel compare A B ...`: candidates, or the settings of one model, side by side.
#include "runnel/report/compare.h"

#include <unistd.h>

#include <algorithm>
#include <list>
#include <memory>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "model_source.h"
#include "output.h"
#include "patience.h"
#include "runnel/sizing/price_list.h"

namespace cli {
namespace {

struct Compare {
  Common common;
  std::vector<std::string> models;
};

/// Adds up the length and the cost of a model's pipe.
void weigh(const runnel::network::Model& model, runnel::report::Candidate& candidate) {
  const runnel::sizing::PriceList prices(model);
  bool priced = !prices.by_weight();
  double cost = 0.0;
  for (const auto& line : candidate.run->system.lines())
    for (const auto& point : line.course.points()) {
      candidate.pipe_m += point.length_m;
      const auto per_m = prices.per_metre(line.pipes[static_cast<std::size_t>(point.pipe)].pipe);
      priced = priced && per_m;
      cost += per_m.value_or(0.0) * point.length_m;
    }
  if (priced) candidate.pipe_cost = cost;
}

int run(const Compare& compare) {
  std::list<runnel::verdict::Answer> answers;
  std::vector<runnel::report::Candidate> candidates;
  runnel::units::UnitSystem written_in = runnel::units::UnitSystem::si;
  for (const std::string& path : compare.models) {
    const Model model = patiently("reading the model", [&] { return read_written(path); });
    if (!model.drawn) return refuse(compare.common, model.findings, model.texts, model.written_in);
    if (candidates.empty()) written_in = model.written_in;
    auto answer = patiently("looking for the steady state",
                            [&] { return runnel::verdict::answer_model(*model.drawn); });
    if (!answer) return refuse(compare.common, answer.findings, model.texts, model.written_in);
    answers.push_back(std::move(*answer.value));
    const auto& kept = answers.back();
    const bool settings = compare.models.size() == 1;
    for (const auto& one : kept.runs) {
      if (!settings && &one != &kept.leading()) continue;
      runnel::report::Candidate candidate{settings ? one.setting : path, &one, 0.0, {}};
      weigh(*model.drawn, candidate);
      candidates.push_back(std::move(candidate));
    }
  }
  const auto options = text_options(compare.common, written_in, STDOUT_FILENO);
  const int written = write(compare.common.json ? runnel::report::compare_json(candidates)
                                                : runnel::report::compare_text(candidates, options),
                            compare.common.output);
  if (written != good) return written;
  const bool all = std::all_of(candidates.begin(), candidates.end(),
                               [](const auto& candidate) { return candidate.run->verdict.good(); });
  return all ? good : wrong_system;
}

}  // namespace

void add_compare(CLI::App& app, int& exit) {
  auto compare = std::make_shared<Compare>();
  CLI::App* command = app.add_subcommand(
      "compare", "Candidates side by side, or the settings of one model: what differs, what fails");
  command
      ->add_option("MODELS", compare->models,
                   "Model files. Of several, the worst setting of each is compared; of one, all its settings")
      ->required()
      ->type_name("");
  add_common(*command, compare->common, true);
  command->footer("Example:\n  runnel compare models/village/model.yaml");
  command->callback([compare, &exit] { exit = run(*compare); });
}

}  // namespace cli
