#include "runnel/verdict/answer.h"

#include <algorithm>
#include <utility>

#include "runnel/steady/state.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/cut_off.h"

namespace runnel::verdict {
namespace {

constexpr Code float_taken_open_rule{
    "float-taken-open",
    "a full tank is judged as if it had been drawn from",
    "A flow is asked of a tank whose float valve is shut at the level the model starts from. What it gets"
    " is worked out with the water at the level where the float opens.",
    "At the level as written nothing runs in, and the answer would say nothing about the line.",
    "Nothing, if that is what is meant. Write a lower `level` to see the line filling an empty tank.",
    ""};

using network::Model;

constexpr const char* as_drawn = "normal";
constexpr double just_below_m = 1e-3;  // a float that opens and shuts at one level opens below it

bool asked_flow(const Model& model, const std::string& place) {
  return std::any_of(model.asks.begin(), model.asks.end(), [&](const network::Ask& ask) {
    return ask.kind == network::AskKind::flow && ask.at == place;
  });
}

Finding taken_open(const network::Tank& tank, Length level) {
  Draft d(float_taken_open_rule, Severity::note);
  d.at_place(tank.name);
  d.message.name(tank.name)
      .say(" starts with its float valve shut; what it gets is worked out with its water at ")
      .figure(Kind::elevation, level.metres())
      .say(", where the float opens.");
  d.source("the model's own levels");
  return d.done();
}

/// Where a flow is asked of a float valve that is shut, it is asked for when the float opens.
Model with_floats_open(Model model, std::vector<Finding>& remarks) {
  for (network::Tank& tank : model.tanks) {
    if (!tank.float_valve || tank.level < tank.float_valve->shuts_at || !asked_flow(model, tank.name))
      continue;
    const Length below = tank.float_valve->shuts_at - Length::metres(just_below_m);
    const Length opens = std::min(tank.float_valve->opens_at, below);
    if (opens < tank.floor) continue;
    tank.level = opens;
    remarks.push_back(taken_open(tank, opens));
  }
  return model;
}

/// Taps that stand shut as drawn, and are judged where a setting opens them.
std::vector<std::string> opened_elsewhere(const Model& drawn) {
  std::vector<std::string> cut;
  for (const network::Setting& setting : drawn.settings)
    if (const auto run = network::under_setting(drawn, setting.name))
      for (const std::string& place : cut_off(*run.value, drawn))
        if (std::find(cut.begin(), cut.end(), place) == cut.end() && drawn.outlet(place) &&
            drawn.outlet(place)->shut)
          cut.push_back(place);
  return cut;
}

Checked<Run> judge_run(const Model& model, const std::string& setting, Aside aside) {
  auto drawn = network::resolve(model);
  if (!drawn) return {std::nullopt, std::move(drawn.findings)};
  auto system = network::resolve(with_floats_open(model, aside.findings));
  if (!system) return {std::nullopt, std::move(system.findings)};
  aside.fill_from = &*drawn.value;
  aside.try_more = true;
  Checked<Run> run{Run{setting, std::move(*system.value), {}, {}}, {}};
  run.value->state = steady::solve(run.value->system);
  // What is judged points into the lines of the system, which stay where they are when a Run moves.
  run.value->verdict = judge_flow(run.value->system, run.value->state, aside);
  return run;
}

Checked<Run> judge_setting(const Model& model, const std::string& setting, bool alone,
                           const std::vector<Finding>& remarks) {
  auto run = network::under_setting(model, setting);
  if (!run) return {std::nullopt, std::move(run.findings)};
  Aside aside{.findings = remarks};
  if (!alone) aside.cut_off = setting == as_drawn ? opened_elsewhere(model) : cut_off(model, *run.value);
  return judge_run(*run.value, setting, std::move(aside));
}

/// Names of the settings whose answer is no better than `ruling`, but for the one that leads.
std::vector<const Run*> others_no_better(const Answer& answer, Ruling ruling) {
  std::vector<const Run*> all;
  for (const Run& run : answer.runs)
    if (&run != &answer.leading() && run.verdict.ruling >= ruling) all.push_back(&run);
  return all;
}

Sentence whole_sentence(const Answer& answer) {
  const Run& leading = answer.leading();
  Sentence s;
  if (answer.runs.size() == 1) return leading.verdict.sentence;
  if (leading.setting != as_drawn) s.say("Under the setting \"").name(leading.setting).say("\": ");
  s.append(leading.verdict.sentence);
  if (answer.ruling() == Ruling::holds) return s.say(" So it does under every setting.");
  const auto others = others_no_better(answer, answer.ruling());
  if (!others.empty())
    s.say(" It is no better under " + (others.size() == 1
                                           ? std::string("one more setting.")
                                           : std::to_string(others.size()) + " more settings."));
  return s;
}

}  // namespace

Checked<Answer> answer_model(const Model& model, const AnswerOptions& options) {
  std::vector<std::string> settings{options.setting.value_or(as_drawn)};
  if (!options.setting)
    for (const network::Setting& setting : model.settings)
      if (setting.name != as_drawn) settings.push_back(setting.name);
  Checked<Answer> answer{Answer{}, {}};
  answer.value->runs.reserve(settings.size());
  for (const std::string& setting : settings) {
    Checked<Run> run = judge_setting(model, setting, options.setting.has_value(), options.remarks);
    if (!run) return {std::nullopt, std::move(run.findings)};
    answer.value->runs.push_back(std::move(*run.value));
  }
  const auto& runs = answer.value->runs;
  const auto worst = std::max_element(runs.begin(), runs.end(), [](const Run& a, const Run& b) {
    return a.verdict.ruling < b.verdict.ruling;
  });
  answer.value->leads = static_cast<std::size_t>(worst - runs.begin());
  answer.value->sentence = whole_sentence(*answer.value);
  return answer;
}

std::vector<Code> answer_codes() { return {float_taken_open_rule}; }

}  // namespace runnel::verdict
