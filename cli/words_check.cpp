#include "words_check.h"

#include "common.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"

namespace cli {
namespace {

std::string did_you_mean(const std::string& word, const std::vector<std::string>& known) {
  const std::string near = runnel::document::nearest(word, known);
  return near.empty() ? "" : "did you mean " + near + "?";
}

std::vector<std::string> options_of(const CLI::App& command) {
  std::vector<std::string> names;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    for (const std::string& name : option->get_snames()) names.push_back("-" + name);
  }
  return names;
}

bool knows(const CLI::App& command, const std::string& word) {
  if (word.size() > 2 && word[1] != '-')  // -ofile: a short option with its value
    return command.get_option_no_throw(word.substr(0, 2)) != nullptr;
  return command.get_option_no_throw(word.substr(0, word.find('='))) != nullptr;
}

runnel::Finding unknown_command(const CLI::App& app, const std::string& word) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    names.push_back(command->get_name());
  std::string all;
  for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
  std::string advice = did_you_mean(word, names);
  advice += (advice.empty() ? "" : " ") + ("the commands are " + all);
  return usage("unknown-command", "there is no command " + runnel::document::quote(word), advice);
}

}  // namespace

std::optional<runnel::Finding> unknown_word(const CLI::App& app, const std::vector<std::string>& words) {
  const CLI::App* command = &app;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    if (word == "--") return std::nullopt;
    if (word.size() > 1 && word[0] == '-') {
      if (knows(*command, word)) {
        const CLI::Option* option = command->get_option_no_throw(word);
        if (option && option->get_items_expected_max() > 0) ++i;  // its value is not ours to judge
        continue;
      }
      std::string advice = did_you_mean(word.substr(0, word.find('=')), options_of(*command));
      if (advice.empty())
        advice =
            "`runnel " + (command == &app ? "" : command->get_name() + " ") + "--help` lists the options";
      return usage("unknown-option",
                   "there is no option " + runnel::document::quote(word.substr(0, word.find('='))), advice);
    }
    if (command == &app) {
      command = nullptr;
      for (const CLI::App* known : app.get_subcommands([](const CLI::App*) { return true; }))
        if (known->get_name() == word) command = known;
      if (!command) return unknown_command(app, word);
    }
  }
  return std::nullopt;
}

}  // namespace cli
