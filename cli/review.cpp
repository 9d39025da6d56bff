// `runnel review MODEL`: a proposal held against rules and against its own claims.
#include "runnel/report/review.h"

#include <unistd.h>

#include <algorithm>
#include <memory>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "model_source.h"
#include "output.h"
#include "patience.h"
#include "runnel/report/harmless.h"
#include "runnel/review/read_rules.h"
#include "runnel/verdict/settings.h"

namespace cli {
namespace {

struct Review {
  Common common;
  std::string model, against, setting, set, rules;
  bool upkeep = false;

  std::string named() const { return setting.empty() ? runnel::verdict::as_drawn : setting; }
  runnel::review::ReviewOptions options() const {
    return setting.empty() ? runnel::review::ReviewOptions{} : runnel::review::ReviewOptions{setting};
  }
};

/// The rules to judge by, or the findings that keep them from being used.
runnel::Checked<runnel::review::RuleSet> rules_of(const Review& review, const runnel::network::Model& model,
                                                  runnel::report::Texts& texts) {
  runnel::Checked<runnel::review::RuleSet> out;
  const runnel::review::RuleSet* set =
      review.set.empty() ? &runnel::review::usual_rules(model) : runnel::review::find_rule_set(review.set);
  if (!set) {
    out.findings.push_back(usage("usage",
                                 "there are no rules of that name: " + runnel::report::harmless(review.set),
                                 "write --for stock or --for village"));
    return out;
  }
  if (review.rules.empty()) {
    out.value = *set;
    return out;
  }
  std::string reason;
  const auto text = read_text(review.rules, reason);
  if (!text) {
    out.findings.push_back(usage(
        "usage", "the rules cannot be read: " + runnel::report::harmless(review.rules) + ": " + reason));
    return out;
  }
  texts[review.rules] = *text;
  return runnel::review::with_own_rules(*set, *text, review.rules);
}

int code_of(const runnel::review::Review& review) {
  if (!review.settled) return no_answer;
  return review.good ? good : wrong_system;
}

runnel::Checked<runnel::review::Review> reviewed(const Model& model, const runnel::review::RuleSet& rules,
                                                 const runnel::review::ReviewOptions& options) {
  return patiently("holding it against the rules",
                   [&] { return runnel::review::review(*model.drawn, rules, options); });
}

/// The other proposal beside the first, each under all its settings. 1 if either does not hold.
int run_against(const Review& wanted, const Model& model, const runnel::review::Review& review) {
  const Model other = patiently("reading the other model",
                                [&] { return read_model(wanted.against, runnel::verdict::as_drawn); });
  if (!other.system) return refuse(wanted.common, other.findings, other.texts, other.written_in);
  const auto second = reviewed(other, review.rules, {});
  if (!second) return refuse(wanted.common, second.findings, other.texts, other.written_in);
  const auto beside = patiently("setting them side by side", [&] {
    return runnel::review::compare({*model.drawn, review}, {*other.drawn, *second.value});
  });
  const runnel::report::ReviewAnswer a{*model.drawn, review, wanted.named()},
      b{*other.drawn, *second.value, runnel::verdict::as_drawn};
  const std::string text =
      wanted.common.json ? runnel::report::against_json(a, b, beside)
                         : runnel::report::against_text(
                               a, b, beside, text_options(wanted.common, model.written_in, STDOUT_FILENO));
  const int written = write(text, wanted.common.output);
  return written == good ? std::max(code_of(review), code_of(*second.value)) : written;
}

std::string written_review(const Review& wanted, const Model& model, const runnel::review::Review& review) {
  const runnel::report::ReviewAnswer answer{*model.drawn, review, wanted.named()};
  const auto options = text_options(wanted.common, model.written_in, STDOUT_FILENO);
  if (wanted.upkeep)
    return wanted.common.json ? runnel::report::upkeep_json(answer)
                              : runnel::report::upkeep_text(answer, options);
  return wanted.common.json ? runnel::report::review_json(answer)
                            : runnel::report::review_text(answer, options);
}

int run(const Review& wanted) {
  const Model model =
      patiently("reading the model", [&] { return read_model(wanted.model, wanted.named()); });
  if (!model.system) return refuse(wanted.common, model.findings, model.texts, model.written_in);
  auto texts = model.texts;
  const auto rules = rules_of(wanted, *model.drawn, texts);
  if (!rules) return refuse(wanted.common, rules.findings, texts, model.written_in);
  if (!wanted.common.json && !model.findings.empty())
    refuse(wanted.common, model.findings, model.texts, model.written_in);
  const auto review = reviewed(model, *rules.value, wanted.options());
  if (!review) return refuse(wanted.common, review.findings, texts, model.written_in);
  if (!wanted.against.empty()) return run_against(wanted, model, *review.value);
  const int written = write(written_review(wanted, model, *review.value), wanted.common.output);
  if (written != good) return written;
  return wanted.upkeep ? good : code_of(*review.value);
}

}  // namespace

void add_review(CLI::App& app, int& exit) {
  auto review = std::make_shared<Review>();
  CLI::App* command = app.add_subcommand(
      "review", "A proposal against published rules and its own claims, each with its source");
  command->add_option("MODEL", review->model, "A model file, or - for standard input")
      ->required()
      ->type_name("");
  command
      ->add_option(
          "--setting", review->setting,
          "Only this way of running it, which the model names; left out: as drawn and under every setting")
      ->type_name("NAME");
  command
      ->add_option("--for", review->set,
                   "Whose rules: stock or village; left out: village if there are three taps or more")
      ->type_name("SET");
  command
      ->add_option("--rules", review->rules,
                   "A file of your own rules: tighter, looser with a reason, or more")
      ->type_name("FILE");
  command->add_option("--against", review->against, "Another proposal, to be set beside this one")
      ->type_name("MODEL");
  command->add_flag("--upkeep", review->upkeep,
                    "Only the sheet of upkeep: what to open, drain, clean and measure, and how often");
  add_common(*command, review->common, true);
  command->footer("Example:\n  runnel review models/village/model.yaml --for village -v");
  command->callback([review, &exit] { exit = run(*review); });
}

}  // namespace cli
