// `runnel explain CODE`: what a finding means, in full. `runnel explain KEY`: what a source in [brackets] is.
#include <fmt/format.h>
#include <unistd.h>

#include <memory>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "output.h"
#include "runnel/base/bibliography.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/report/codes.h"
#include "runnel/report/references.h"
#include "runnel/verdict/codes.h"

namespace cli {
namespace {

struct Explain {
  Common common;
  std::string code;  ///< of a finding, or the key of a reference
  bool references = false;
};

int unknown(const Explain& explain) {
  std::vector<std::string> known;
  for (const auto& code : runnel::verdict::finding_codes()) known.emplace_back(code.code);
  for (const auto& reference : runnel::base::references()) known.push_back(reference.key);
  const std::string near = runnel::document::nearest(explain.code, known);
  return refuse(
      explain.common,
      {usage("unknown-code", "there is no finding or source called " + runnel::document::quote(explain.code),
             (near.empty() ? "" : "did you mean " + near + "? ") +
                 std::string(
                     "`runnel explain` lists the findings, `runnel explain --references` the sources"))});
}

std::string all(const Explain& explain, const runnel::report::TextOptions& options) {
  if (explain.references)
    return explain.common.json ? runnel::report::references_json() : runnel::report::references_text(options);
  return explain.common.json ? runnel::report::codes_json() : runnel::report::codes_text(options);
}

/// The page of a finding or of a source; empty if there is none.
std::string page(const Explain& explain, const runnel::report::TextOptions& options) {
  const bool json = explain.common.json;
  if (const auto* code = explain.references ? nullptr : runnel::verdict::find_code(explain.code))
    return json ? runnel::report::code_json(*code) : runnel::report::code_text(*code, options);
  if (const auto* reference = runnel::base::find_reference(explain.code))
    return json ? runnel::report::reference_json(*reference)
                : runnel::report::reference_text(*reference, options);
  return "";
}

int run(const Explain& explain) {
  const auto options = text_options(explain.common, runnel::units::System::si, STDOUT_FILENO);
  const std::string text = explain.code.empty() ? all(explain, options) : page(explain, options);
  return text.empty() ? unknown(explain) : write(text, explain.common.output);
}

}  // namespace

void add_explain(CLI::App& app, int& exit) {
  auto explain = std::make_shared<Explain>();
  CLI::App* command =
      app.add_subcommand("explain", "What a finding means and what to do, or what a source is");
  command
      ->add_option(
          "CODE", explain->code,
          "The code in brackets behind a finding, or the key of a source; left out: list all findings")
      ->type_name("");
  command->add_flag("--references", explain->references,
                    "The sources of rules and figures, with how each was come by");
  add_common(*command, explain->common, false);
  command->footer("Examples:\n  runnel explain static-above-rating\n  runnel explain clamond2009");
  command->callback([explain, &exit] { exit = run(*explain); });
}

}  // namespace cli
