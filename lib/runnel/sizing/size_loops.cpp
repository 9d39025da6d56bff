#include "runnel/sizing/size_loops.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "runnel/base/index.h"
#include "runnel/network/course.h"
#include "runnel/sizing/convex_bound.h"
#include "runnel/sizing/design_loops.h"
#include "runnel/sizing/loop_search.h"
#include "runnel/sizing/loop_trials.h"
#include "runnel/sizing/shortfall.h"

namespace runnel::sizing {
namespace {

using network::Model;

/// Choices tried in full, each once.
class Trials {
 public:
  Trials(const Model& model, const DesignLoops& loops, const SizeLimits& limits, SizeAnswer& answer)
      : model_(model), loops_(loops), limits_(limits), answer_(answer) {}

  bool accept(const std::vector<int>& options) {
    const auto known = known_.find(options);
    if (known != known_.end()) return does(known->second);
    if (!time_left()) return false;
    Model design = laid(model_, sizes_of(model_, loops_, options));
    Trial trial;
    if (limits_.accept(design)) {
      ++answer_.tried;
      trial = try_out(design);
    } else {
      ++answer_.passed_over;
      trial.reason = "not-sure-enough";
      trial.model = design;
    }
    const Outcome outcome = !trial.good   ? Outcome::fails
                            : trial.surge ? Outcome::but_for_surge
                                          : Outcome::does;
    const std::string reason = trial.good ? surge_above_rating : trial.reason;
    if (outcome != Outcome::does &&
        std::find(answer_.failed.begin(), answer_.failed.end(), reason) == answer_.failed.end())
      answer_.failed.push_back(reason);
    if (trial.good || known_.empty()) {
      answer_.laid = std::move(design);
      answer_.trial = trial;
    }
    return does(known_[options] = outcome);
  }

  /// From here on, a design passes that bursts only if a valve snaps shut. False if none was seen.
  bool let_surge_pass() {
    surge_passes_ = true;
    return std::any_of(known_.begin(), known_.end(),
                       [](const auto& one) { return one.second == Outcome::but_for_surge; });
  }

  /// Whether no candidate was left untried because of the limits.
  bool time_left() const {
    return answer_.tried < limits_.most_tried && answer_.passed_over < limits_.most_passed_over;
  }

 private:
  enum class Outcome { fails, but_for_surge, does };
  bool does(Outcome outcome) const {
    return outcome == Outcome::does || (surge_passes_ && outcome == Outcome::but_for_surge);
  }

  const Model& model_;
  const DesignLoops& loops_;
  const SizeLimits& limits_;
  SizeAnswer& answer_;
  bool surge_passes_ = false;
  std::map<std::vector<int>, Outcome> known_;
};

std::vector<ChosenLine> lines_of(const Model& model, const DesignLoops& loops,
                                 const std::vector<int>& options, const PriceList& prices) {
  LoopTrials trials(loops.choice);
  trials.margin_m(options);
  std::vector<ChosenLine> lines(model.pipelines.size());
  for (std::size_t l = 0; l < lines.size(); ++l) {
    const network::Pipeline& line = model.pipelines[l];
    lines[l].line = line.name;
    lines[l].pipe = line.pipes.front().pipe.name;
    const network::Course course(line.survey, line.parts, line.pipes, line.along);
    for (const auto& point : course.points()) lines[l].length_m += point.length_m;
    lines[l].flow_m3s = std::abs(trials.state().flow_m3s[at(loops.line_link[l])]);
  }
  for (std::size_t r = 0; r < options.size(); ++r) {
    ChosenLine& chosen = lines[at(loops.lines[r])];
    const auto& pipe = model.pipelines[at(loops.lines[r])].choice->among[at(loops.sizes[r][at(options[r])])];
    chosen.pipe = pipe.name;
    chosen.per_metre = prices.per_metre(pipe);
    chosen.cost = loops.choice.runs[r].options[at(options[r])].cost;
  }
  return lines;
}

}  // namespace

Checked<SizeAnswer> size_loops(const Model& model, const PriceList& prices, const SizeLimits& limits) {
  Checked<SizeAnswer> out;
  auto loops = design_loops(model, prices);
  out.findings = std::move(loops.findings);
  if (!loops) return out;
  const LoopChoice& choice = loops.value->choice;
  SizeAnswer answer;
  answer.by_weight = prices.by_weight();
  answer.loops = true;
  answer.tree.unpriced = loops.value->unpriced;
  Trials trials(model, *loops.value, limits, answer);
  LoopLimits search;
  search.kicks = limits.kicks;
  search.stop = limits.stop;
  search.accept = [&](const std::vector<int>& options, double) { return trials.accept(options); };
  search.progress = [&](long solved, double best) { limits.progress({solved, best, true}); };
  LoopAnswer found = search_loops(choice, search);
  if (!found.found && trials.let_surge_pass()) found = search_loops(choice, search);
  if (found.found) {
    found.proved = false;  // by the cuts alone; the same must hold of what passes the trial
    prove_loops(choice, found, search);
    answer.outcome = SizeOutcome::chosen;
    answer.proved = found.proved && trials.time_left() && !limits.stop();
    answer.cost = found.best.cost;
    if (!answer.proved)
      found.bound = std::max(found.bound, bound_by_convex_hull(choice, {found.best.cost, 2, limits.stop}));
    answer.bound = answer.proved ? found.best.cost : std::min(found.best.cost, found.bound);
    answer.lines = lines_of(model, *loops.value, found.best.options, prices);
    answer.laid = laid(model, sizes_of(model, *loops.value, found.best.options));
    answer.trial = with_round_throttles(try_out(answer.laid), answer.laid);
  } else if (found.most_margin_m < 0.0) {
    answer.outcome = SizeOutcome::out_of_reach;
    answer.shortfalls = shortfalls_with_loops(model, *loops.value, prices);
  }
  answer.solved = found.solved;
  answer.stopped = limits.stop();
  out.value = std::move(answer);
  return out;
}

}  // namespace runnel::sizing
