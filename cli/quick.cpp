// `runnel quick`: one straight run without a file. The words become the same system a model would.
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

int run(const Quick& quick) {
  QuickSystem made = quick_system(quick.words);
  if (runnel::any_error(made.findings)) return refuse(quick.common, made.findings);
  const auto system = runnel::network::resolve(made.model);
  if (!system) return refuse(quick.common, system.findings);
  return answer(quick.common, made.model, {.remarks = made.remarks}, made.written_in);
}

void each(CLI::App& command, const char* option, std::vector<std::string>& words, const char* what,
          const char* type) {
  command.add_option(option, words, what)->type_name(type)->expected(1)->take_all();
}

void add_course(CLI::App& command, QuickWords& words) {
  command.add_option("--drop", words.drop, "From the water in the box down to the end of the pipe: 38ft")
      ->type_name("HEIGHT");
  command.add_option("--length", words.length, "Length of the pipe: 700ft")->type_name("LENGTH");
  each(command, "--point", words.points,
       "A high or low point, DEPTH@LENGTH: 5ft@300ft lies 5 ft below the water in the box, 300 ft down the"
       " pipe; --point=-2ft@300ft lies above it. Once for each point, in any order",
       "DEPTH@LENGTH");
  each(command, "--leg", words.legs,
       "Instead of the three above: pipe and its rise, leg by leg from the box: --leg 150ft,-12ft --leg "
       "80ft,3ft",
       "LENGTH,RISE");
  command
      .add_option("--cover", words.cover,
                  "Water over the box's outlet pipe (0.3 m, or a tenth of the drop if that is less)")
      ->type_name("HEIGHT");
}

void add_parts(CLI::App& command, QuickWords& words) {
  command
      .add_option("--pipe", words.pipe,
                  "A name from `runnel pipes`, what it is called (hdpe 32 sdr17), or `bore 1.38 in`")
      ->required()
      ->type_name("PIPE");
  command.add_option("--rating", words.rating, "What pressure the pipe stands, where its name does not say")
      ->type_name("PRESSURE");
  command
      .add_option("--end", words.end,
                  "What the pipe ends in: open, 'tap 1/2in', float (a trough's valve) or tank (open)")
      ->type_name("END");
  each(command, "--air-valve", words.air_valves, "An air valve at that length of pipe", "LENGTH");
  each(command, "--hydrant", words.hydrants, "A hydrant of 3/4 in at that length of pipe, shut", "LENGTH");
  command.add_flag("--sealed", words.sealed, "No air can get into the pipe: it may run as a siphon");
}

}  // namespace

void add_quick(CLI::App& app, int& exit) {
  auto quick = std::make_shared<Quick>();
  QuickWords& words = quick->words;
  CLI::App* command = app.add_subcommand("quick", "What `flow` says, for one run of pipe and without a file");
  add_course(*command, words);
  add_parts(*command, words);
  command->add_option("--yield", words.yield, "What the spring gives; left out: as much as the pipe takes")
      ->type_name("FLOW");
  command->add_option("--need", words.need, "What should arrive")->type_name("FLOW");
  command->add_option("--water", words.water, "Temperature of the water (10degC)")->type_name("TEMPERATURE");
  command->add_option("--altitude", words.altitude, "Height above the sea (0m)")->type_name("HEIGHT");
  command->add_option("--friction", words.friction, "darcy-weisbach or hazen-williams")->type_name("LAW");
  add_common(*command, quick->common, true);
  command->footer(
      "All lengths are along the pipe, as a tape laid on it reads.\nExample:\n  runnel quick --drop 38ft "
      "--length "
      "700ft --pipe 'PE4710 DR11 1-1/4 in' --yield 2gpm --point 5ft@300ft");
  command->callback([quick, &exit] { exit = run(*quick); });
}

}  // namespace cli
