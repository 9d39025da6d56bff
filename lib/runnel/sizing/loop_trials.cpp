#include "runnel/sizing/loop_trials.h"

#include <algorithm>

namespace runnel::sizing {
namespace {

/// With the widest pipe on every run.
steady::Kernel widest(const LoopChoice& choice) {
  steady::Kernel kernel = choice.there;
  for (const LoopRun& run : choice.runs)
    kernel.add_pipe(run.a, run.b, *run.options.back().pipe, run.length_m, 0.0);
  return kernel;
}

}  // namespace

LoopTrials::LoopTrials(const LoopChoice& choice)
    : choice_(choice),
      first_link_(static_cast<int>(choice.there.links.size())),
      solver_(widest(choice), {.polish = false}) {
  for (const LoopRun& run : choice.runs) laid_.push_back(static_cast<int>(run.options.size()) - 1);
}

double LoopTrials::margin_m(const std::vector<int>& options) {
  for (std::size_t r = 0; r < options.size(); ++r) {
    if (options[r] == laid_[r]) continue;
    const LoopOption& option = choice_.runs[r].options[static_cast<std::size_t>(options[r])];
    const LoopOption& before = choice_.runs[r].options[static_cast<std::size_t>(laid_[r])];
    if (option.pipe) solver_.set_pipe(link_of(r), 0, *option.pipe);
    if (option.pipe.has_value() != before.pipe.has_value()) solver_.set_shut(link_of(r), !option.pipe);
    laid_[r] = options[r];
  }
  ++solved_;
  const steady::KernelState& state = solver_.solve_near();
  if (state.outcome != steady::Outcome::settled) return -1e9;
  double margin = 1e9;
  for (std::size_t v = 0; v < state.head_m.size(); ++v)
    if (!choice_.there.nodes[v].fixed) margin = std::min(margin, state.head_m[v] - choice_.least_head_m[v]);
  return margin;
}

}  // namespace runnel::sizing
