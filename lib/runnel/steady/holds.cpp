#include "runnel/steady/holds.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"

namespace runnel::steady {
namespace {

// The c of the projection and of `wrong_m` is the range of heads of the whole system over its total flow.
// Where next to nothing flows that ratio means little, so the flow counts as at least the first figure and c
// as at most the second.
constexpr double least_flow_m3s = 1e-9;
constexpr double most_metres_per_flow = 1e6;

double metres_per_flow(const Workspace& work) {
  return std::min((work.highest_m - work.lowest_m) / std::max(work.total_flow_m3s, least_flow_m3s),
                  most_metres_per_flow);
}

bool limited_draw(const KernelNode& node) { return node.draw_m3s > 0.0 && node.draw_floor_m > -unbounded; }

/// Unbalanced inflow at a place: what its draw or its spill has to take.
double comes_m3s(const Workspace& work, int v) {
  return work.net_m3s[at(v)] +
         (work.state.hold[at(v)] == Hold::free ? work.kernel.nodes[at(v)].draw_m3s : 0.0);
}

/// A figure that is not a number stays in `worst`, where std::max would lose it at the next call.
void take_worse(double& worst, double value) {
  if (value > worst || value != value) worst = value;
}

double worst_continuity(const Workspace& work) {
  double worst = 0.0, sum = 0.0;
  for (int v : work.balanced) {
    const double off = std::abs(work.net_m3s[at(v)]);
    worst = off > worst ? off : worst;
    sum += off;
  }
  if (sum != sum) return sum;  // one of them is no number
  for (int v : work.held) {
    const Hold hold = work.state.hold[at(v)];
    const double net = work.net_m3s[at(v)];
    if (hold == Hold::free || hold == Hold::draw_none) {
      take_worse(worst, std::abs(net));
    } else {  // wrong: a spill or a draw below zero, or a draw above the one wanted
      take_worse(worst, -net);
      if (hold == Hold::draw_short) take_worse(worst, net - work.kernel.nodes[at(v)].draw_m3s);
    }
  }
  return worst;
}

}  // namespace

double stored_m3s(const Workspace& work, std::size_t node) {
  if (work.storage_m2s == 0.0 || work.kernel.nodes[node].fixed) return 0.0;
  return work.storage_m2s * (work.state.head_m[node] - work.stored_from_m[node] + work.low(node));
}

void balance_places(Workspace& work) {
  work.net_m3s = work.asked_m3s;
  for (int v : work.held)
    if (work.state.hold[at(v)] != Hold::free) work.net_m3s[at(v)] += work.kernel.nodes[at(v)].draw_m3s;
  if (work.storage_m2s != 0.0)
    for (std::size_t v = 0; v < work.net_m3s.size(); ++v) work.net_m3s[v] -= stored_m3s(work, v);
  for (std::size_t k = 0; k < work.joins.size(); ++k) {
    const auto [from, to] = work.joins[k];
    const double flow = work.state.flow_m3s[k];
    work.net_m3s[from] -= flow;
    if (to >= 0) work.net_m3s[at(to)] += flow;
  }
  work.worst_net_m3s = worst_continuity(work);
}

double worst_hold_m(const Workspace& work) {
  double worst = 0.0;
  for (int v : work.held) {
    const KernelNode& node = work.kernel.nodes[at(v)];
    const double head = work.state.head_m[at(v)];
    switch (work.state.hold[at(v)]) {
      case Hold::free:
        take_worse(worst, head - node.lip_m);
        if (node.draw_m3s > 0.0) take_worse(worst, node.draw_floor_m - head);
        break;
      case Hold::lip:
        take_worse(worst, node.lip_m - head);  // a place that spills stands at its lip
        break;
      case Hold::draw_short:
        take_worse(worst, std::abs(head - node.draw_floor_m));
        break;
      case Hold::draw_none:
        take_worse(worst, head - node.draw_floor_m);
        break;
    }
  }
  return worst;
}

void choose_holds(Workspace& work) {
  const double c = metres_per_flow(work);
  for (int v : work.held) {
    const KernelNode& node = work.kernel.nodes[at(v)];
    Hold& hold = work.state.hold[at(v)];
    const double comes = comes_m3s(work, v), head = work.state.head_m[at(v)];
    if (node.lip_m < unbounded && comes - node.draw_m3s + (head - node.lip_m) / c > 0.0) {
      hold = Hold::lip;
    } else if (limited_draw(node)) {
      const double draw = comes + (head - node.draw_floor_m) / c;
      hold = draw >= node.draw_m3s ? Hold::free : draw > 0.0 ? Hold::draw_short : Hold::draw_none;
    } else {
      hold = Hold::free;
    }
  }
}

double wrong_m(const Workspace& work) {
  double sum = work.tally.sum_m;
  const double c = metres_per_flow(work);
  for (int v : work.free) {
    const KernelNode& node = work.kernel.nodes[at(v)];
    const double head = work.state.head_m[at(v)], comes = comes_m3s(work, v);
    double held = limited_draw(node) ? std::clamp(comes + (head - node.draw_floor_m) / c, 0.0, node.draw_m3s)
                                     : node.draw_m3s;
    if (node.lip_m < unbounded) held += std::max(0.0, comes - node.draw_m3s + (head - node.lip_m) / c);
    sum += std::abs(comes - held) * c;
  }
  return sum;
}

}  // namespace runnel::steady
