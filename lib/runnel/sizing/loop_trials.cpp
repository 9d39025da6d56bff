#include "runnel/sizing/loop_trials.h"

#include <algorithm>
#include <cmath>

namespace runnel::sizing {
namespace {

/// The kernel with the widest pipe on every run.
steady::Kernel widest(const LoopChoice& choice) {
  steady::Kernel kernel = choice.there;
  for (const LoopRun& run : choice.runs)
    if (run.link < 0) kernel.add_pipe(run.a, run.b, *run.options.back().pipe, run.length_m, 0.0);
  return kernel;
}

// What is asked is met to a part in a million (verdict/flow_verdict.h).
constexpr double flow_tolerance = 1e-6;
// The head that a share of a flow counts as: it has the right sign, and rises with what comes.
constexpr double as_head_m = 10.0;
// The head that a draw holds is there except for rounding.
constexpr double held_m = 1e-9;

}  // namespace

LoopTrials::LoopTrials(const LoopChoice& choice, bool velocities)
    : choice_(choice), velocities_(velocities), solver_(widest(choice), {.polish = false}) {
  int next = static_cast<int>(choice.there.links.size());
  for (const LoopRun& run : choice.runs) {
    laid_.push_back(run.link < 0 ? static_cast<int>(run.options.size()) - 1 : -1);
    link_.push_back(run.link < 0 ? next++ : run.link);
  }
}

void LoopTrials::lay(std::size_t run, const LoopOption& option) {
  const int link = link_of(run);
  if (option.pipe) solver_.set_pipe(link, 0, *option.pipe);
  if (choice_.runs[run].link < 0) return;
  const LoopLaw& law = option.law;
  const steady::Link& shape = solver_.kernel().links[static_cast<std::size_t>(link)];
  for (std::size_t c = 0; c < law.controls.size(); ++c) {
    const auto place = static_cast<std::uint32_t>(c);
    const std::uint32_t control =
        place < shape.forwards ? shape.forward + place : shape.backward + (place - shape.forwards);
    solver_.set_control(link, control, law.controls[c], &law.lengths_m[c]);
  }
  solver_.set_start(link, law.start_m3s, law.smooth_m3s);
  if (law.mouth) solver_.set_mouth(link, true, *law.mouth);
  if (law.back_mouth) solver_.set_mouth(link, false, *law.back_mouth);
}

double LoopTrials::margin_m(const std::vector<int>& options) {
  for (std::size_t r = 0; r < options.size(); ++r) {
    if (options[r] == laid_[r]) continue;
    const LoopOption& option = choice_.runs[r].options[static_cast<std::size_t>(options[r])];
    const bool was_there = laid_[r] < 0 || choice_.runs[r].options[static_cast<std::size_t>(laid_[r])].pipe;
    lay(r, option);
    if (option.pipe.has_value() != was_there) solver_.set_shut(link_of(r), !option.pipe);
    laid_[r] = options[r];
  }
  ++solved_;
  const steady::KernelState& state = solver_.solve_near();
  if (state.outcome != steady::Outcome::settled) return -1e9;
  double margin = 1e9;
  for (std::size_t v = 0; v < state.head_m.size(); ++v) margin = std::min(margin, margin_at_m(v));
  return velocities_ ? std::min(margin, velocity_margin_m(options)) : margin;
}

double LoopTrials::velocity_margin_m(const std::vector<int>& options) const {
  double margin = 1e9;
  for (std::size_t r = 0; r < options.size(); ++r) {
    const LoopRun& run = choice_.runs[r];
    const auto& pipe = run.options[static_cast<std::size_t>(options[r])].pipe;
    if (!pipe || !std::isfinite(run.most_ms)) continue;
    const double share = std::abs(solver_.state().flow_m3s[static_cast<std::size_t>(link_of(r))]) /
                         (pipe->area_m2() * run.most_ms);
    if (share > 1.0 + flow_tolerance) margin = std::min(margin, as_head_m * (1.0 - share));
  }
  return margin;
}

double LoopTrials::margin_at_m(std::size_t place) const {
  const steady::KernelState& state = solver_.state();
  const auto want = [](double got, double wanted) {
    return as_head_m * (got / wanted - (1.0 - flow_tolerance));
  };
  double margin = 1e9;
  for (const LoopInflow& inflow : choice_.inflows) {
    if (inflow.node != static_cast<int>(place)) continue;
    double got = 0.0;
    for (std::size_t l = 0; l < solver_.kernel().links.size(); ++l) {
      const steady::Link& link = solver_.kernel().links[l];
      if (link.b == inflow.node) got += state.flow_m3s[l];
      if (link.a == inflow.node) got -= state.flow_m3s[l];
    }
    margin = std::min(margin, want(got, inflow.flow_m3s));
  }
  if (choice_.is_source(place)) return margin;
  const double drawn_m3s = choice_.there.nodes[place].draw_m3s;
  // A draw that is short holds its head just where it must be.
  if (drawn_m3s > 0.0 && state.surplus_m3s[place] < drawn_m3s * (1.0 - flow_tolerance))
    return std::min(margin, want(state.surplus_m3s[place], drawn_m3s));
  return std::min(margin, state.head_m[place] - choice_.least_head_m[place] + held_m);
}

}  // namespace runnel::sizing
