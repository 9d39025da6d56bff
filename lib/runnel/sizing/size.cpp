#include "runnel/sizing/size.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"
#include "runnel/proof/check_choice.h"
#include "runnel/sizing/codes.h"
#include "runnel/sizing/constant_spread.h"
#include "runnel/sizing/head_grid.h"
#include "runnel/sizing/in_order_of_cost.h"
#include "runnel/sizing/shortfall.h"
#include "runnel/sizing/size_loops.h"
#include "runnel/sizing/tree_program.h"
#include "runnel/verdict/draft.h"

namespace runnel::sizing {
namespace {

using network::Model;
using verdict::Code;
using verdict::Draft;

constexpr Code nothing_open_rule{"nothing-to-choose",
                                 "nothing is left open",
                                 "`size` was run on a model that leaves no pipe open.",
                                 "There is nothing to choose.",
                                 "Write `pipe: {choose: pe100 sdr11}` for each line that may still change.",
                                 ""};

constexpr Code constant_rule{
    "hangs-on-constant",
    "a margin thinner than a constant in print",
    "What is chosen does with the model's own Hazen-Williams k, and not with every k that books print.",
    "The printed values differ by 4 %, and nobody knows which is right for a given pipe.",
    "Size with the greatest k in print, 10.9031, or by Darcy-Weisbach.",
    "[savic-walters1997]"};

constexpr Code not_sure_rule{
    "not-sure-enough",
    "a choice that may turn out short",
    "`size --sure` passed over a choice, because the chance that some need is met is less than was asked "
    "for.",
    "Levels, bores, roughness and the spring are not known exactly.",
    "Measure again what the ranking names first, or take wider pipe.",
    ""};

Finding nothing_to_choose() {
  Draft d(nothing_open_rule, Severity::error);
  d.message.say("the model leaves no pipe open");
  d.advice.say("write `pipe: {choose: pe100 sdr11}` for each line that may still change");
  return d.done();
}

std::vector<ChosenLine> lines_of(const Model& model, const DesignTree& tree, const std::vector<int>& options,
                                 const PriceList& prices) {
  std::vector<ChosenLine> lines(model.pipelines.size());
  for (std::size_t b = 0; b < options.size(); ++b) {
    const DesignLine& design = tree.lines[b];
    if (design.line < 0) continue;
    const network::Pipeline& line = model.pipelines[at(design.line)];
    ChosenLine& chosen = lines[at(design.line)];
    chosen.line = line.name;
    chosen.flow_m3s = design.flow_m3s;
    const network::Course course(line.survey, line.parts, line.pipes, line.along);
    for (const auto& point : course.points()) chosen.length_m += point.length_m;
    const int size = design.sizes[at(options[b])];
    const pipes::Pipe& pipe = size < 0 ? line.pipes.front().pipe : line.choice->among[at(size)];
    chosen.pipe = pipe.name;
    if (size >= 0) chosen.per_metre = prices.per_metre(pipe);
    chosen.cost = tree.choice.branches[b].options[at(options[b])].cost;
  }
  return lines;
}

void note(std::vector<std::string>& codes, const std::string& code) {
  if (std::find(codes.begin(), codes.end(), code) == codes.end()) codes.push_back(code);
}

/// The widest option of every branch.
std::vector<int> widest(const network::TreeChoice& choice) {
  std::vector<int> options;
  for (const auto& branch : choice.branches) {
    const auto less = [](const auto& a, const auto& b) { return a.loss_m < b.loss_m; };
    options.push_back(static_cast<int>(std::min_element(branch.options.begin(), branch.options.end(), less) -
                                       branch.options.begin()));
  }
  return options;
}

/// Roomier designs, for when the cheapest ones fail something that no sum expresses: those for greater needs,
/// and the widest.
std::vector<std::vector<int>> roomier(const Model& model, const PriceList& prices, const DesignTree& tree) {
  std::vector<std::vector<int>> designs;
  for (const double share : {1.02, 1.05, 1.1, 1.2, 1.4, 1.8, 2.5}) {
    Model more = model;
    for (auto& ask : more.asks) ask.flow = ask.flow * share;
    for (auto& box : more.boxes) box.yield = box.yield * share;
    const auto greater = design_tree(more, prices);
    if (!greater) continue;
    const TreeAnswer answer = cheapest(greater.value->choice);
    if (answer.outcome == TreeOutcome::proved) designs.push_back(answer.options);
  }
  designs.push_back(widest(tree.choice));
  return designs;
}

/// Tries a choice of sizes, the quicker test first.
Trial tried(const Model& model, const SizeLimits& limits, const Sizes& sizes, SizeAnswer& answer) {
  answer.laid = laid(model, sizes);
  if (limits.accept(answer.laid)) {
    ++answer.tried;
    return try_out(answer.laid);
  }
  ++answer.passed_over;
  Trial trial;
  trial.reason = not_sure_rule.code;
  trial.model = answer.laid;
  return trial;
}

void take(const Model& model, const PriceList& prices, const std::vector<int>& options, Trial trial,
          SizeAnswer& answer) {
  answer.trial = std::move(trial);
  answer.lines = lines_of(model, answer.tree, options, prices);
  answer.cost = 0.0;
  for (const ChosenLine& line : answer.lines) answer.cost += line.cost;
}

/// A design that works, if the cheapest was not reached: not proved, and the bound says how far off it may
/// be.
void fall_back(const Model& model, const PriceList& prices, const SizeLimits& limits, SizeAnswer& answer) {
  for (const auto& options : roomier(model, prices, answer.tree)) {
    Trial trial = tried(model, limits, sizes_of(model, answer.tree, options), answer);
    if (!trial.good) {
      answer.trial = std::move(trial);
      continue;
    }
    take(model, prices, options, std::move(trial), answer);
    answer.outcome = SizeOutcome::chosen;
    return;
  }
}

/// Candidates from the cheapest up, until one passes.
void search(const Model& model, const PriceList& prices, const TreeAnswer& relaxed, const SizeLimits& limits,
            SizeAnswer& answer) {
  InOrderOfCost candidates(answer.tree.choice, relaxed);
  // The cheapest that passes but bursts if a valve snaps shut: taken if no other is found.
  std::optional<std::pair<std::vector<int>, Trial>> but_for_surge;
  bool all_tried = false;
  const auto choose = [&] {
    answer.outcome = SizeOutcome::chosen;
    answer.proved = proof::check(answer.tree.choice, relaxed.proof).empty();
  };
  while (answer.tried < limits.most_tried && answer.passed_over < limits.most_passed_over && !limits.stop()) {
    const auto candidate = candidates.next();
    all_tried = !candidate && !candidates.tired();
    if (!candidate) break;
    answer.bound = candidate->cost;
    limits.progress({answer.tried + answer.passed_over, candidate->cost});
    Trial trial = tried(model, limits, sizes_of(model, answer.tree, candidate->options), answer);
    if (!trial.good || trial.surge) note(answer.failed, trial.good ? surge_above_rating : trial.reason);
    if (trial.good && trial.surge && !but_for_surge) but_for_surge = {candidate->options, trial};
    const bool does = trial.good && !trial.surge;
    take(model, prices, candidate->options, std::move(trial), answer);
    if (does) return choose();
  }
  if (but_for_surge) {
    answer.laid = laid(model, sizes_of(model, answer.tree, but_for_surge->first));
    take(model, prices, but_for_surge->first, std::move(but_for_surge->second), answer);
    answer.bound = answer.cost;
    choose();
  } else if (!all_tried) {
    fall_back(model, prices, limits, answer);
  }
}

}  // namespace

namespace {

std::string digits(double value) { return fmt::format("{:.6g}", value); }

/// Remarks on a choice whose margin is thinner than the spread of the constant in print.
void remark_constant(SizeAnswer& answer) {
  const auto hangs = hangs_on_constant(answer.laid);
  if (!hangs) return;
  Draft d(constant_rule, Severity::warning);
  d.at_place(hangs->place);
  d.message.name(hangs->place).say(" has ").figure(Kind::head, hangs->margin_m);
  d.message.say(" of head to spare, and that depends on the Hazen-Williams constant: it does with k = " +
                digits(answer.laid.friction.k) + " and fails from " + digits(hangs->turns_at_k) +
                " on, and books print " + digits(least_printed_k) + " to " + digits(greatest_printed_k));
  d.advice.say("such a margin says nothing of water: size it with k = " + digits(greatest_printed_k) +
               ", or by Darcy-Weisbach");
  answer.remarks.push_back(d.done());
}

Checked<SizeAnswer> chosen(const Model& model, const SizeLimits& limits);

}  // namespace

Checked<SizeAnswer> size(const Model& model, const SizeLimits& limits) {
  auto answer = chosen(model, limits);
  if (!answer) return answer;
  if (answer.value->outcome != SizeOutcome::chosen) {
    if (!answer.value->trial.acts.empty() && !limits.stop()) look_for_cures(answer.value->trial);
    return answer;
  }
  remark_constant(*answer.value);
  if (answer.value->trial.surge) answer.value->remarks.push_back(*answer.value->trial.surge);
  return answer;
}

namespace {

Checked<SizeAnswer> chosen(const Model& model, const SizeLimits& limits) {
  Checked<SizeAnswer> out;
  if (std::none_of(model.pipelines.begin(), model.pipelines.end(), [](const auto& l) { return l.choice; })) {
    out.findings.push_back(nothing_to_choose());
    return out;
  }
  const PriceList prices(model);
  auto tree = design_tree(model, prices);
  if (is_no_tree(tree)) return size_loops(model, prices, limits);
  out.findings = std::move(tree.findings);
  if (!tree) return out;
  SizeAnswer answer;
  answer.tree = std::move(*tree.value);
  answer.by_weight = prices.by_weight();
  const TreeAnswer relaxed = cheapest(answer.tree.choice);
  if (relaxed.outcome == TreeOutcome::impossible) {
    answer.outcome = SizeOutcome::out_of_reach;
    answer.shortfalls = shortfalls(model, answer.tree, prices);
    answer.trial = tried(model, limits, sizes_of(model, answer.tree, widest(answer.tree.choice)), answer);
  } else if (relaxed.outcome == TreeOutcome::proved) {
    search(model, prices, relaxed, limits, answer);
  }
  if (answer.outcome == SizeOutcome::chosen)
    answer.trial = with_round_throttles(std::move(answer.trial), answer.laid);
  answer.stopped = !answer.proved && limits.stop();
  out.value = std::move(answer);
  return out;
}

}  // namespace

std::vector<Code> size_codes() { return {nothing_open_rule, constant_rule, not_sure_rule}; }

}  // namespace runnel::sizing
