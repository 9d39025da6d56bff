#include "runnel/sizing/loop_choice.h"

#include <cmath>

namespace runnel::sizing {

std::vector<int> roomiest(const LoopChoice& choice) {
  std::vector<int> options;
  for (const LoopRun& run : choice.runs) {
    std::size_t widest = 0;
    for (std::size_t k = 1; k < run.options.size(); ++k)
      if (run.bore_m(k) >= run.bore_m(widest)) widest = k;
    options.push_back(static_cast<int>(widest));
  }
  return options;
}

double cost_of(const LoopChoice& choice, const std::vector<int>& options) {
  double cost = 0.0;
  for (std::size_t r = 0; r < options.size(); ++r)
    cost += choice.runs[r].options[static_cast<std::size_t>(options[r])].cost;
  return cost;
}

std::vector<steady::Link> LoopChoice::old_links() const {
  std::vector<bool> old(there.links.size(), true);
  for (const LoopRun& run : runs)
    if (run.link >= 0) old[static_cast<std::size_t>(run.link)] = false;
  std::vector<steady::Link> links;
  for (std::size_t l = 0; l < old.size(); ++l)
    if (old[l] && there.links[l].a >= 0 && there.links[l].b >= 0) links.push_back(there.links[l]);
  return links;
}

std::vector<int> links_that_stay(const LoopChoice& choice) {
  std::vector<bool> has_run(choice.there.links.size(), false);
  for (const LoopRun& run : choice.runs)
    if (run.link >= 0) has_run[static_cast<std::size_t>(run.link)] = true;
  std::vector<int> stay;
  for (std::size_t l = 0; l < has_run.size(); ++l)
    if (!has_run[l] && !choice.there.links[l].shut) stay.push_back(static_cast<int>(l));
  return stay;
}

LoopLaw law_of(const steady::Kernel& kernel, const steady::Link& link) {
  LoopLaw law;
  const auto add = [&](std::uint32_t first, std::uint32_t count) {
    for (std::uint32_t c = first; c < first + count; ++c) {
      law.controls.push_back(kernel.controls[c]);
      law.lengths_m.push_back(kernel.lengths_m[kernel.controls[c].lengths]);
    }
  };
  add(link.forward, link.forwards);
  add(link.backward, link.backwards);
  law.start_m3s = link.start_m3s;
  law.smooth_m3s = link.smooth_m3s;
  const auto mouth_of = [&](int control) {
    return control < 0 ? std::nullopt
                       : std::optional(kernel.mouths[static_cast<std::size_t>(
                             kernel.controls[static_cast<std::size_t>(control)].mouth)]);
  };
  law.mouth = mouth_of(link.forward_mouth);
  law.back_mouth = mouth_of(link.backward_mouth);
  return law;
}

double loss_m(const LoopChoice& choice, const LoopRun& run, std::size_t option, double flow_m3s) {
  constexpr double nothing_passes_m = 1e6;
  const LoopOption& laid = run.options[option];
  const double flow = std::abs(flow_m3s);
  if (!laid.pipe) return 0.0;
  if (laid.law.controls.empty())
    return std::copysign(run.length_m * laid.pipe->per_metre(flow).head_m, flow_m3s);
  const std::size_t backward = choice.there.links[static_cast<std::size_t>(run.link)].forwards;
  const std::size_t control = flow_m3s < 0.0 ? backward : 0;
  if (control >= laid.law.controls.size() || (flow_m3s >= 0.0 && backward == 0))
    return std::copysign(nothing_passes_m, flow_m3s);
  const double local =
      laid.law.controls[control].quadratic_s2m5 * flow * std::hypot(flow, laid.law.smooth_m3s);
  return std::copysign(laid.law.lengths_m[control] * laid.pipe->per_metre(flow).head_m + local, flow_m3s);
}

double loss_slope_sm2(const LoopChoice& choice, const LoopRun& run, std::size_t option, double flow_m3s) {
  const double step = 1e-6 * std::abs(flow_m3s) + 1e-12;
  return (loss_m(choice, run, option, flow_m3s + step) - loss_m(choice, run, option, flow_m3s - step)) /
         (2.0 * step);
}

double flow_at(const losses::PipeFriction& pipe, double length_m, double loss_m) {
  if (loss_m <= 0.0) return 0.0;
  // Newton on the logarithms, since the law is nearly a power; it comes from above and does not overshoot.
  double flow = pipe.area_m2();
  for (int i = 0; i < 50; ++i) {
    const losses::LossAndSlope loss = pipe.per_metre(flow);
    const double power = loss.slope_sm2 * flow / loss.head_m;
    const double step = std::log(loss.head_m * length_m / loss_m) / power;
    flow *= std::exp(-step);
    if (std::abs(step) < 1e-14) break;
  }
  return flow;
}

}  // namespace runnel::sizing
