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

double flow_at(const losses::PipeFriction& pipe, double length_m, double loss_m) {
  if (loss_m <= 0.0) return 0.0;
  // Newton on the logarithms of a law that is nearly a power; it comes from above and does not pass by.
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
