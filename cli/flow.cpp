// `runnel flow MODEL`: pressures, flows and a verdict.
#include <memory>

#include "answer.h"
#include "commands.h"
#include "common.h"
#include "model_source.h"
#include "patience.h"
#include "runnel/verdict/settings.h"

namespace cli {
namespace {

struct Flow {
  Common common;
  std::string model, setting;
};

int run(const Flow& flow) {
  const std::string first = flow.setting.empty() ? runnel::verdict::as_drawn : flow.setting;
  const Model model = patiently("reading the model", [&] { return read_model(flow.model, first); });
  if (!model.system) return refuse(flow.common, model.findings, model.texts, model.written_in);
  if (!flow.common.json && !model.findings.empty())
    refuse(flow.common, model.findings, model.texts, model.written_in);
  runnel::verdict::AnswerOptions options;
  if (!flow.setting.empty()) options.setting = flow.setting;
  options.remarks = model.findings;
  return answer(flow.common, *model.drawn, options, model.written_in);
}

}  // namespace

void add_flow(CLI::App& app, int& exit) {
  auto flow = std::make_shared<Flow>();
  CLI::App* command = app.add_subcommand("flow", "Pressures, flows, what runs full, and whether it delivers");
  command->add_option("MODEL", flow->model, "A model file, or - for standard input")
      ->required()
      ->type_name("");
  command
      ->add_option(
          "--setting", flow->setting,
          "Only this way of running it, which the model names; left out: as drawn and under every setting")
      ->type_name("NAME");
  add_common(*command, flow->common, true);
  command->footer("Example:\n  runnel flow models/seep_box/model.yaml --setting 'box service'");
  command->callback([flow, &exit] { exit = run(*flow); });
}

}  // namespace cli
