// `runnel schema`: the JSON Schema of a model, for editors; and its keys as tables, for people.
#include "runnel/input/schema.h"

#include <memory>

#include "commands.h"
#include "common.h"
#include "output.h"
#include "runnel/input/language.h"

namespace cli {

namespace {

struct Schema {
  Common common;
  bool tables = false;
};

}  // namespace

void add_schema(CLI::App& app, int& exit) {
  auto schema = std::make_shared<Schema>();
  CLI::App* command =
      app.add_subcommand("schema", "A JSON Schema of the model file, for editors that check YAML");
  command->add_flag("--tables", schema->tables, "Every key with its meaning, as Markdown tables for people");
  add_common(*command, schema->common, false);
  command->footer(
      "Example:\n  runnel schema -o runnel.schema.json\n  and as first line of a model:\n"
      "  # yaml-language-server: $schema=runnel.schema.json");
  command->callback([schema, &exit] {
    exit = write(schema->tables ? runnel::input::language_tables() : runnel::input::model_schema(),
                 schema->common.output);
  });
}

}  // namespace cli
