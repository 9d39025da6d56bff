#include "runnel/filling/check_flows.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "runnel/base/constants.h"
#include "runnel/filling/check_vessel.h"
#include "runnel/filling/fill.h"
#include "runnel/network/no_flow.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/newton.h"

namespace runnel::filling {
namespace {

using network::System;

// The steady solver settles heads to 1e-9 m; flows over a mouth running dry may differ by a few times that.
constexpr double head_grain_m = 5e-9;
constexpr double at_floor_m = 1e-6;   // water this low counts as on the floor, beyond rounding
constexpr double jump_m = 1e-8;       // how near in level to a jump of the flows a step may end
constexpr double step_share = 1e-8;   // error allowed in a step, of a capacity
constexpr std::size_t instants = 12;  // enough to meet each regime of a day; each costs a solve from nothing

/// How far apart two flows of a line are, as velocity heads in its first pipe.
double head_apart_m(const network::Line& line, double a, double b) {
  const double area_m2 = pi * std::pow(line.pipes.front().pipe.bore.metres() / 2.0, 2);
  return std::abs(a * std::abs(a) - b * std::abs(b)) / (2.0 * gravity_ms2 * area_m2 * area_m2);
}

/// The whole system with its storages at given levels.
class Standing {
 public:
  Standing(const System& system, double start_hour)
      : system_(system), start_hour_(start_hour), assembly_(steady::assemble(system, {.for_filling = true})) {
    for (const int node : assembly_.nodes_of(network::PlaceKind::tank))
      nodes_.push_back(static_cast<std::size_t>(node));
    for (std::size_t b = 0; b < system.boxes().size(); ++b)
      if (system.boxes()[b].stores())
        nodes_.push_back(static_cast<std::size_t>(assembly_.nodes_of(network::PlaceKind::box)[b]));
    for (const Vessel& vessel : vessels_of(system)) floor_m_.push_back(vessel.floor_m);
    for (const std::size_t node : nodes_) yield_m3s_.push_back(assembly_.kernel.nodes[node].inflow_m3s);
    for (const steady::Link& link : assembly_.kernel.links) shut_.push_back(link.shut);
  }

  /// The flow of every pipeline at these levels; none if they do not settle.
  std::optional<std::vector<double>> flows_m3s(const std::vector<double>& level_m, const StepRecord& step) {
    steady::Kernel& kernel = assembly_.kernel;
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      steady::KernelNode& node = kernel.nodes[nodes_[i]];
      node.fixed = !step.film[i];  // a film over a mouth gives what it gets
      node.head_m = level_m[i];
      node.inflow_m3s = yield_m3s_[i];
      node.draw_m3s = 0.0;
      if (!node.fixed) give(node, step.stage[2].drawn_m3s[i], level_m[i], floor_m_[i]);
    }
    for (std::size_t l = 0; l < system_.lines().size(); ++l) {
      const auto link = static_cast<std::size_t>(assembly_.line_link[l]);
      kernel.links[link].shut = shut_[link] || step.valve[l] == Valve::shut;
    }
    take_draws(step.start_s + 0.5 * step.length_s);
    const steady::KernelState state = steady::solve(kernel);
    if (state.outcome != steady::Outcome::settled) return std::nullopt;
    std::vector<double> flow;
    for (const int link : assembly_.line_link) flow.push_back(state.flow_m3s[static_cast<std::size_t>(link)]);
    return flow;
  }

 private:
  /// An empty storage may have given all that came, which by rounding can be a little more than comes here,
  /// so it gives only what it has. Its draw takes the water down to the floor itself and not to the top of
  /// the film, which even at a hundredth of a micrometre would send a weak spring down the line instead.
  static void give(steady::KernelNode& node, double drawn_m3s, double level_m, double floor_m) {
    if (level_m <= floor_m + at_floor_m) {
      node.draw_m3s = drawn_m3s;
      node.draw_floor_m = floor_m;
    } else {
      node.inflow_m3s -= drawn_m3s;
    }
  }

  /// Sets the draws by the hour at taps and joints.
  void take_draws(double time_s) {
    steady::Kernel& kernel = assembly_.kernel;
    for (std::size_t j = 0; j < system_.joints().size(); ++j)
      if (const auto& draws = system_.joints()[j].draws; !draws.empty())
        kernel.nodes[static_cast<std::size_t>(assembly_.nodes_of(network::PlaceKind::joint)[j])].draw_m3s =
            asked_m3s(draws, time_s, start_hour_);
    for (std::size_t o = 0; o < system_.outlets().size(); ++o) {
      const auto& draws = system_.outlets()[o].draws;
      if (draws.empty() || assembly_.outlet_link[o] < 0) continue;
      const auto link = static_cast<std::size_t>(assembly_.outlet_link[o]);
      kernel.links[link].most_m3s = asked_m3s(draws, time_s, start_hour_);
      kernel.links[link].shut = shut_[link] || !(kernel.links[link].most_m3s > 0.0);
    }
  }

  const System& system_;
  double start_hour_;
  steady::Assembly assembly_;
  std::vector<std::size_t> nodes_;
  std::vector<double> yield_m3s_, floor_m_;  ///< one a storage
  std::vector<char> shut_;
};

/// The worst difference between a step's last flows and those at the given levels shifted by `shift_m`.
std::optional<double> apart_m3s(const System& system, Standing& standing, const StepRecord& step,
                                std::vector<double> level_m, double shift_m) {
  for (double& level : level_m) level += shift_m;
  const auto fresh = standing.flows_m3s(level_m, step);
  if (!fresh) return std::nullopt;
  double worst = 0.0;
  for (std::size_t l = 0; l < system.lines().size(); ++l) {
    const double q = step.stage[2].line_m3s[l];
    if (head_apart_m(system.lines()[l], q, (*fresh)[l]) > head_grain_m)
      worst = std::max(worst, std::abs(q - (*fresh)[l]));
  }
  return worst;
}

/// Whether the levels of a step's last flows are those at its end to a micrometre.
bool levels_alike(const StepRecord& step, const std::vector<double>& end_m) {
  constexpr double micrometre_m = 1e-6;
  for (std::size_t i = 0; i < end_m.size(); ++i)
    if (std::abs(step.last_level_m[i] - end_m[i]) > micrometre_m) return false;
  return true;
}

/// How far the levels of a step's last flows are from those at its end, as a share of the capacities.
double volume_apart(const std::vector<Vessel>& vessels, const StepRecord& step,
                    const std::vector<double>& end_m) {
  double worst = 0.0;
  for (std::size_t i = 0; i < vessels.size(); ++i)
    worst = std::max(worst,
                     std::abs(vessels[i].volume_m3(step.last_level_m[i]) - vessels[i].volume_m3(end_m[i])) /
                         vessels[i].volume_m3(vessels[i].lip_m));
  return worst;
}

}  // namespace

/// The flows of a step's last stage must be those of the levels at its end, or of levels that differ from
/// them by no more water than the error allowed in a step, or by a micrometre: between tanks that a short
/// pipe joins so little decides the fifth digit of a flow. Where hardly anything is stored (the bottom of a
/// lying cylinder) that is micrometres, which decide what runs over a mouth there. Flows jump where a ring of
/// pipes turns from full to short of water; if a step ends just there, either side of the jump will do.
void check_flows(const System& system, double start_hour, const FillHistory& history, FillProof& proof) {
  const auto& record = history.record;
  double largest = network::flow_grain_m3s;
  for (const auto& box : system.boxes()) largest = std::max(largest, box.yield.si());
  Standing standing(system, start_hour);
  const std::vector<Vessel> vessels = vessels_of(system);
  const std::size_t stride = record.empty() ? 1 : std::max<std::size_t>(1, (record.size() - 1) / instants);
  for (std::size_t n = 0; n + 1 < record.size(); n += stride) {
    const StepRecord& step = record[n];
    if (std::find(step.valve.begin(), step.valve.end(), Valve::held) != step.valve.end()) continue;
    std::optional<double> least;
    const auto look = [&](const std::vector<double>& level_m) {
      for (const double shift : {0.0, jump_m, -jump_m}) {
        if (least && *least == 0.0) return;
        const auto apart = apart_m3s(system, standing, step, level_m, shift);
        if (apart) least = std::min(least.value_or(*apart), *apart);
      }
    };
    look(record[n + 1].level_m);
    if (levels_alike(step, record[n + 1].level_m) ||
        volume_apart(vessels, step, record[n + 1].level_m) <= step_share)
      look(step.last_level_m);
    if (!least) continue;
    ++proof.instants;
    proof.flow_m3s = std::max(proof.flow_m3s, *least);
    for (const double q : step.stage[2].line_m3s) largest = std::max(largest, std::abs(q));
  }
  proof.flow_share = proof.flow_m3s / largest;
}

}  // namespace runnel::filling
