// The command `runnel`: one file per command beside this one.
#include <csignal>
#include <exception>
#include <new>
#include <sstream>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "output.h"
#include "runnel/report/harmless.h"
#include "words_check.h"

namespace {

constexpr const char* introduction =
    "runnel - will water run downhill by itself from a spring to a tank?\n\n"
    "  runnel quick --drop 38ft --length 700ft --pipe 'PE4710 DR11 1-1/4 in' --yield 2gpm\n"
    "  runnel flow models/seep_box/model.yaml\n"
    "  runnel begin spring.yaml\n\n"
    "Commands: flow, fill, size, compare, review, quick, begin, pipes, explain, schema. `runnel --help` says "
    "more.\n";

bool wants_json(const std::vector<std::string>& words) {
  for (const std::string& word : words)
    if (word == "--json") return true;
  return false;
}

int run(int argc, char** argv) {
  CLI::App app{
      "Will water run downhill by itself from a spring to a tank, how much arrives, and at what pressure?",
      "runnel"};
  int exit = cli::good;
  app.set_version_flag("--version", std::string("runnel ") + RUNNEL_VERSION);
  app.set_help_all_flag("--help-all", "Help of every command");
  app.require_subcommand(1);
  app.footer(
      "Exit codes: 0 good; 1 something is wrong with the system, or what decides is not known; 2 the input "
      "is\n"
      "wrong; "
      "3 no answer was reached; 70 a defect of runnel.");
  for (auto add : {cli::add_flow, cli::add_fill, cli::add_size, cli::add_compare, cli::add_review,
                   cli::add_quick, cli::add_begin, cli::add_pipes, cli::add_explain, cli::add_schema})
    add(app, exit);

  const std::vector<std::string> words(argv + 1, argv + argc);
  if (words.empty()) return cli::write(introduction, "");
  cli::Common common;
  common.json = wants_json(words);
  if (const auto finding = cli::unknown_word(app, words)) return cli::refuse(common, {*finding});
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& wanted) {  // --help, --version
    std::ostringstream text;
    app.exit(wanted, text, text);
    return cli::write(text.str(), "");
  } catch (const CLI::ParseError& slip) {
    const auto finding = cli::usage("usage", runnel::report::harmless(slip.what()),
                                    "add --help to the command to see how it is used");
    return cli::refuse(common, {finding});
  }
  return exit;
}

}  // namespace

int main(int argc, char** argv) {
  std::signal(SIGPIPE, SIG_IGN);  // a reader that goes away is no crash: `write` sees EPIPE
  std::signal(SIGXFSZ, SIG_IGN);  // nor is a limit on the size of files: it sees EFBIG
  cli::guard_standard_streams();
  try {
    return run(argc, argv);
  } catch (const std::bad_alloc&) {  // with nothing left, not even for a message put together
    cli::tell("runnel: there is not enough memory for this model; nothing was written\n");
    return cli::no_answer;
  } catch (const std::exception& fault) {
    cli::tell("runnel: this is a defect of runnel, please report it: ");
    cli::tell(fault.what());
    cli::tell("\n");
    return cli::defect;
  }
}
