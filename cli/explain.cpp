// `runnel explain CODE`: what a finding means, in full.
#include <fmt/format.h>
#include <unistd.h>

#include <memory>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "output.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/report/codes.h"
#include "runnel/verdict/codes.h"

namespace cli {
namespace {

struct Explain {
  Common common;
  std::string code;
};

int unknown(const Explain& explain) {
  std::vector<std::string> known;
  for (const auto& code : runnel::verdict::finding_codes()) known.emplace_back(code.code);
  const std::string near = runnel::document::nearest(explain.code, known);
  return refuse(explain.common,
                {usage("unknown-code", "there is no finding called " + runnel::document::quote(explain.code),
                       (near.empty() ? "" : "did you mean " + near + "? ") +
                           std::string("`runnel explain` lists them all"))});
}

int run(const Explain& explain) {
  const bool all = explain.code.empty();
  const runnel::verdict::Code* code = all ? nullptr : runnel::verdict::find_code(explain.code);
  if (!all && !code) return unknown(explain);
  const auto options = text_options(explain.common, runnel::units::System::si, STDOUT_FILENO);
  std::string text;
  if (explain.common.json)
    text = all ? runnel::report::codes_json() : runnel::report::code_json(*code);
  else
    text = all ? runnel::report::codes_text(options) : runnel::report::code_text(*code, options);
  return write(text, explain.common.output);
}

}  // namespace

void add_explain(CLI::App& app, int& exit) {
  auto explain = std::make_shared<Explain>();
  CLI::App* command = app.add_subcommand("explain", "What a finding means, why it matters and what to do");
  command->add_option("CODE", explain->code, "The code in brackets behind a finding; left out: list all")
      ->type_name("");
  add_common(*command, explain->common, false);
  command->footer("Example:\n  runnel explain static-above-rating");
  command->callback([explain, &exit] { exit = run(*explain); });
}

}  // namespace cli
