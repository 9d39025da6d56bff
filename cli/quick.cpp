// `runnel quick`: one straight run without a file. The words become the same system a model would.
#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "answer.h"
#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "quick_system.h"
#include "runnel/network/validate.h"

namespace cli {
namespace {

struct Quick {
  Common common;
  QuickWords words;
};

/// Where stations differ from what a tape along the pipe reads: which is which, point by point.
std::vector<runnel::Finding> stations_along_pipe(const runnel::network::System& system) {
  const auto& survey = system.lines().front().survey;
  runnel::Finding note;
  note.code = "stations-on-the-level";
  note.severity = runnel::Severity::note;
  note.message =
      "Stations in this answer are distances on the level, as on a map. A tape along the pipe reads more:";
  double along_m = 0.0;
  for (std::size_t i = 1; i < survey.size(); ++i) {
    const double run_m = (survey[i].station - survey[i - 1].station).metres();
    along_m += std::hypot(run_m, (survey[i].elevation - survey[i - 1].elevation).metres());
    const std::size_t n = note.figures.size();
    note.message += fmt::format("{} station {{{}}} is {{{}}} of pipe", i > 1 ? "," : "", n, n + 1);
    note.figures.push_back({runnel::Kind::length, survey[i].station.metres()});
    note.figures.push_back({runnel::Kind::length, along_m});
  }
  note.message += ".";
  note.source = "the language of the model: stations are plan distance";
  note.where.pipeline = system.lines().front().name;
  constexpr double worth_saying = 0.002;  // a foot in five hundred: below that a tape lies as much
  if (survey.back().station.metres() > along_m * (1.0 - worth_saying)) return {};
  return {note};
}

int run(const Quick& quick) {
  QuickSystem made = quick_system(quick.words);
  if (runnel::any_error(made.findings)) return refuse(quick.common, made.findings);
  const auto system = runnel::network::resolve(made.model);
  if (!system) return refuse(quick.common, system.findings);
  runnel::verdict::AnswerOptions options;
  options.remarks = stations_along_pipe(*system.value);
  return answer(quick.common, made.model, options, made.written_in);
}

}  // namespace

void add_quick(CLI::App& app, int& exit) {
  auto quick = std::make_shared<Quick>();
  QuickWords& words = quick->words;
  CLI::App* command = app.add_subcommand("quick", "The same for one run of pipe, without a file");
  command->add_option("--drop", words.drop, "From the water in the box down to the open end: 38ft")
      ->required()
      ->type_name("HEIGHT");
  command->add_option("--length", words.length, "Length of the pipe: 700ft")->required()->type_name("LENGTH");
  command->add_option("--pipe", words.pipe, "A name from `runnel pipes`, or a bore: 1.38in")
      ->required()
      ->type_name("PIPE");
  command->add_option("--yield", words.yield, "What the spring gives; left out: as much as the pipe takes")
      ->type_name("FLOW");
  command->add_option("--need", words.need, "What should arrive")->type_name("FLOW");
  command
      ->add_option(
          "--point", words.points,
          "A high or low point, DEPTH@LENGTH: 5ft@300ft lies 5 ft below the water in the box, 300 ft down the"
          " pipe; --point=-2ft@300ft lies above it. Once for each point, in any order")
      ->type_name("DEPTH@LENGTH")
      ->expected(1)
      ->take_all();
  command->add_option("--water", words.water, "Temperature of the water (10degC)")->type_name("TEMPERATURE");
  command->add_option("--altitude", words.altitude, "Height above the sea (0m)")->type_name("HEIGHT");
  command->add_option("--friction", words.friction, "darcy-weisbach or hazen-williams")->type_name("LAW");
  command->add_flag("--sealed", words.sealed, "No air can get into the pipe: it may run as a siphon");
  add_common(*command, quick->common, true);
  command->footer(
      "Example:\n  runnel quick --drop 38ft --length 700ft --pipe 'PE4710 DR11 1-1/4 in' --yield 2gpm "
      "--point 5ft@300ft");
  command->callback([quick, &exit] { exit = run(*quick); });
}

}  // namespace cli
