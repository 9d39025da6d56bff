// `runnel schema`: the JSON Schema of a model, for editors.
#include "runnel/input/schema.h"

#include <memory>

#include "commands.h"
#include "common.h"
#include "output.h"

namespace cli {

void add_schema(CLI::App& app, int& exit) {
  auto common = std::make_shared<Common>();
  CLI::App* command =
      app.add_subcommand("schema", "A JSON Schema of the model file, for editors that check YAML");
  add_common(*command, *common, false);
  command->footer(
      "Example:\n  runnel schema -o runnel.schema.json\n  and as first line of a model:\n"
      "  # yaml-language-server: $schema=runnel.schema.json");
  command->callback([common, &exit] { exit = write(runnel::input::model_schema(), common->output); });
}

}  // namespace cli
