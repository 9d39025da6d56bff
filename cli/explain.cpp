// `runnel explain WORD`: what a finding means, in full; what a source in [brackets] is; what a key of the
// model file, a part, a unit or a word of the trade means.
#include <fmt/format.h>
#include <unistd.h>

#include <memory>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "explain_word.h"
#include "output.h"
#include "runnel/base/bibliography.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/report/codes.h"
#include "runnel/report/finding_codes.h"
#include "runnel/report/references.h"
#include "runnel/report/review_rules.h"

namespace cli {
namespace {

struct Explain {
  Common common;
  std::vector<std::string> words;  ///< of one name: of a finding, a source, a key, a part, a unit, a term
  bool references = false;
  bool terms = false;

  std::string name() const {
    std::string all;
    for (const std::string& word : words) all += (all.empty() ? "" : " ") + word;
    return all;
  }
};

int unknown(const Explain& explain) {
  std::vector<std::string> known = known_words();
  for (const auto& code : runnel::report::finding_codes()) known.emplace_back(code.code);
  for (const auto& reference : runnel::base::references()) known.push_back(reference.key);
  for (const std::string& rule : runnel::report::rule_names()) known.push_back(rule);
  const std::string near = runnel::document::nearest(explain.name(), known);
  return refuse(explain.common,
                {usage("unknown-code", "nothing is called " + runnel::document::quote(explain.name()),
                       (near.empty() ? "" : "did you mean " + near + "? ") +
                           std::string("`runnel explain` lists the findings, `--terms` the words of the "
                                       "trade, `--references` the sources, `runnel schema --tables` the "
                                       "keys of a model"))});
}

std::string all(const Explain& explain, const runnel::report::TextOptions& options) {
  const bool json = explain.common.json;
  if (explain.terms) return json ? terms_json() : terms_text(options);
  if (explain.references)
    return json ? runnel::report::references_json() : runnel::report::references_text(options);
  return json ? runnel::report::codes_json() : runnel::report::codes_text(options);
}

/// The page of a finding, a source or a word; empty if there is none.
std::string page(const Explain& explain, const runnel::report::TextOptions& options) {
  const bool json = explain.common.json;
  const std::string name = explain.name();
  if (const auto* code = explain.references ? nullptr : runnel::report::find_code(name))
    return json ? runnel::report::code_json(*code) : runnel::report::code_text(*code, options);
  if (const auto* reference = runnel::base::find_reference(name))
    return json ? runnel::report::reference_json(*reference)
                : runnel::report::reference_text(*reference, options);
  const std::string word = json ? word_json(name) : word_text(name, options);
  if (!word.empty()) return word;
  return json ? runnel::report::rule_json(name) : runnel::report::rule_text(name, options);
}

int run(const Explain& explain) {
  const auto options = text_options(explain.common, runnel::units::UnitSystem::si, STDOUT_FILENO);
  const std::string text = explain.words.empty() ? all(explain, options) : page(explain, options);
  return text.empty() ? unknown(explain) : write(text, explain.common.output);
}

}  // namespace

void add_explain(CLI::App& app, int& exit) {
  auto explain = std::make_shared<Explain>();
  CLI::App* command = app.add_subcommand(
      "explain", "What a finding, a source, a key of the model, a part, a unit or a word of the trade means");
  command
      ->add_option("WORD", explain->words,
                   "What to explain: a code or a key in brackets, or any word; left out: list all findings")
      ->type_name("");
  command->add_flag("--references", explain->references,
                    "The sources of rules and figures, with how each was come by");
  command->add_flag("--terms", explain->terms, "The words of the trade");
  add_common(*command, explain->common, false);
  command->footer(
      "Examples:\n  runnel explain static-above-rating\n  runnel explain clamond2009\n  runnel explain grade "
      "line\n  "
      "runnel explain float_valve");
  command->callback([explain, &exit] { exit = run(*explain); });
}

}  // namespace cli
