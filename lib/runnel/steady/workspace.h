#pragma once
// What the parts of the solver work on together: the state as it stands and the linear model at it.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "runnel/linear/node_system.h"
#include "runnel/steady/kernel_state.h"
#include "runnel/steady/link_law.h"

namespace runnel::steady {

/// Sums and extremes over links by which a state is judged.
struct LinkTally {
  double worst_m = 0.0, sum_m = 0.0;  ///< energies left over
  double worst_m3s = 0.0;             ///< how far a link's flow is off at the present heads
  double flow_m3s = 0.0;              ///< all flows, without their signs
  double steepest = 0.0;              ///< the largest alpha or beta
  std::size_t at_rest = 0;            ///< links that answer to no head
};

struct Workspace {
  /// Sizes everything but the state; `read_kernel` must follow.
  explicit Workspace(const Kernel& kernel_in);
  /// Call this last of all that allocates for good. The state outlives the rest: if it lay below the rest,
  /// the end of the heap would be returned to the system after every solve and requested anew.
  void make_state();

  /// Takes over whatever has changed in the kernel, which may be anything but its shape. Makes the state if
  /// there is none yet.
  void read_kernel();
  /// The same where only figures of places have changed.
  void read_places();
  /// Begins with heads as high as they can be, flows zero and every place held by its balance.
  void first_guess();
  /// Begins from a state found earlier for a kernel of the same shape.
  void start_from(const KernelState& near);

  Head head(int node) const {
    return {state.head_m[static_cast<std::size_t>(node)], low(static_cast<std::size_t>(node))};
  }
  double low(std::size_t node) const { return fine() ? low_m[node] : 0.0; }
  void set_head(std::size_t node, double head_m) {
    state.head_m[node] = head_m;
    if (fine()) low_m[node] = 0.0;
  }
  /// Moves a head from where it was. What a sum loses in the double is kept beside it.
  void move_head(std::size_t node, double from_m, double from_low_m, double by_m) {
    const double change = from_low_m + by_m, sum = from_m + change;
    state.head_m[node] = sum;
    if (fine())
      low_m[node] = std::abs(change) <= std::abs(from_m) ? (from_m - sum) + change : (change - sum) + from_m;
  }
  /// Whether heads carry what a double drops. Large systems do not until they fail to settle without.
  bool fine() const { return !low_m.empty(); }
  void carry_low() { low_m.resize(kernel.nodes.size(), 0.0); }

  const Kernel& kernel;
  KernelState state;
  std::vector<double> low_m;  ///< one a node, or empty: what rounding drops from `state.head_m`
  std::vector<int> index;     ///< node -> place of the linear system, -1: fixed
  std::vector<int> free;      ///< place -> node
  std::vector<linear::Ends> ends;
  std::vector<int> held;      ///< nodes with a lip or a draw
  std::vector<int> balanced;  ///< all others that are free: held by their balance alone
  struct Nodes {
    std::uint32_t from;
    int to;  ///< -1: the open air
  };
  std::vector<Nodes> joins;                        ///< one a link: its ends in the kernel
  std::vector<double> asked_m3s, net_m3s;          ///< one a node: inflow less draw; net inflow
  std::vector<double> alpha, beta, predicted_m3s;  ///< one a link
  std::vector<char> two_way, capped;               ///< one a link
  bool all_turn_freely = true;                     ///< every link is two-way and has no most flow
  bool ends_suffice = true;                        ///< no link has more than its end-to-end controls
  bool ends_only = false;                          ///< use only the first control of each direction
  bool past_mouths = false;                        ///< use all controls but mouths
  LinkTally tally;
  double worst_net_m3s = 0.0, total_flow_m3s = 0.0, most_inflow_m3s = 0.0;
  double highest_m = 0.0, lowest_m = 0.0;  ///< heads are kept between these
  double start_m = 0.0;                    ///< where a free head without a lip begins
  double storage_m2s = 0.0;                ///< storage area of every place over the length of the time step
  std::vector<double> stored_from_m;       ///< heads at the beginning of that step
  double step = 1.0;                       ///< share of the last step taken

 private:
  void read_links();
  void find_bounds();
  double highest_source_m_ = -unbounded, lowest_sink_m_ = unbounded;  ///< of the controls
};

}  // namespace runnel::steady
