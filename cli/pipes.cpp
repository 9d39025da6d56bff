// `runnel pipes [WORD...]`: the catalogue, or the rows that hold every word.
#include "runnel/report/pipes.h"

#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <memory>

#include "commands.h"
#include "common.h"
#include "output.h"
#include "runnel/document/quote.h"
#include "runnel/pipes/called.h"
#include "runnel/pipes/catalogue.h"

namespace cli {
namespace {

struct Pipes {
  Common common;
  std::vector<std::string> words;
};

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

/// Rows that hold every word; where there are none, those that people call so.
std::vector<runnel::pipes::Pipe> rows_of(const std::vector<std::string>& words) {
  const runnel::pipes::Catalogue& catalogue = runnel::pipes::standard_catalogue();
  std::vector<runnel::pipes::Pipe> rows;
  for (const auto& pipe : catalogue.pipes()) {
    const std::string all = lower(pipe.name + " " + pipe.material + " " + pipe.standard);
    if (std::all_of(words.begin(), words.end(),
                    [&](const std::string& word) { return all.find(lower(word)) != std::string::npos; }))
      rows.push_back(pipe);
  }
  if (!rows.empty()) return rows;
  std::string call;
  for (const std::string& word : words) call += " " + word;
  for (const runnel::pipes::Pipe* pipe : runnel::pipes::called(catalogue, call)) rows.push_back(*pipe);
  return rows;
}

int run(const Pipes& wanted) {
  const std::vector<runnel::pipes::Pipe> rows = rows_of(wanted.words);
  if (rows.empty()) {
    std::string words;
    for (const std::string& word : wanted.words) words += (words.empty() ? "" : " ") + word;
    return refuse(wanted.common,
                  {usage("no-such-pipe", "the catalogue has no pipe with " + runnel::document::quote(words),
                         "`runnel pipes` lists them all")});
  }
  const auto options = text_options(wanted.common, runnel::units::UnitSystem::us, STDOUT_FILENO);
  return write(
      wanted.common.json ? runnel::report::pipes_json(rows) : runnel::report::pipes_text(rows, options),
      wanted.common.output);
}

}  // namespace

void add_pipes(CLI::App& app, int& exit) {
  auto pipes = std::make_shared<Pipes>();
  CLI::App* command =
      app.add_subcommand("pipes", "The catalogue: bores, ratings, standards, and how sure each row is");
  command
      ->add_option("WORD", pipes->words,
                   "Only rows that hold every word, or are called so: pe4710 1-1/2, hdpe 32")
      ->type_name("");
  add_common(*command, pipes->common, true);
  command->footer("Example:\n  runnel pipes pe4710 dr11 --units si");
  command->callback([pipes, &exit] { exit = run(*pipes); });
}

}  // namespace cli
