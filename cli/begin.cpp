// `runnel begin FILE`: a short model with remarks, to be changed into one's own.
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <memory>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "output.h"
#include "runnel/base/embedded.h"
#include "runnel/document/quote.h"

namespace cli {
namespace {

/// The example models/first_line as it stands, without its first line: that tells editors where the schema
/// lies beside the examples, and beside the new file there is none.
std::string first_model() {
  const std::string& text = runnel::base::first_model_files().front().text;
  return text.substr(text.find('\n') + 1);
}

int run(const Common& common, const std::string& path) {
  const bool to_stdout = path.empty() || path == "-";
  std::error_code fault;
  // Anything with that name is left alone, a link to nothing too.
  if (!to_stdout &&
      std::filesystem::symlink_status(path, fault).type() != std::filesystem::file_type::not_found)
    return refuse(common, {usage("file-exists",
                                 runnel::document::quote(path) + " is there already, and is left as it is",
                                 "give another name, or move that file away first")});
  const int written = write(first_model(), to_stdout ? "" : path);
  if (written == good && !to_stdout) tell("wrote " + path + "; `runnel flow " + path + "` answers for it\n");
  return written;
}

}  // namespace

void add_begin(CLI::App& app, int& exit) {
  auto common = std::make_shared<Common>();
  auto path = std::make_shared<std::string>();
  CLI::App* command =
      app.add_subcommand("begin", "Write a short model with remarks, to change into your own");
  command
      ->add_option("FILE", *path, "The new file, which must not be there yet; left out or -: standard output")
      ->type_name("");
  command->footer("Example:\n  runnel begin spring.yaml\n  runnel flow spring.yaml");
  command->callback([common, path, &exit] { exit = run(*common, *path); });
}

}  // namespace cli
