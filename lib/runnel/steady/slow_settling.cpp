#include "runnel/steady/slow_settling.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace runnel::steady {
namespace {

constexpr int most_stages = 400;   ///< a system settles in some twenty, or circles for good
constexpr int steps_a_stage = 25;  ///< a step in time that needs more is too long
constexpr int steps_without = 40;  ///< without storage, as many as a plain search gets

/// How a run goes: its first storage, in units of that which takes up the total flow with one metre of rise;
/// by what factor storage shrinks from step to step at first and at its fastest; and after how many steps
/// each the state without storage is tried.
struct Pace {
  double storage, first_shrink, fastest_shrink;
  int tries_every;
};
// The first pace settles nearly every system. Steps that circle at one pace seldom do at another, and there
// is no telling beforehand at which. The others were found by trying them on the fourteen of 40,000 systems
// that the first leaves (tests/steady/wide_system.h).
constexpr Pace paces[] = {
    {1.0, 0.2, 0.1, 4}, {1.0, 0.3, 0.3, 1}, {1e3, 0.2, 0.1, 4}, {1e9, 0.3, 0.3, 1}, {1.0, 0.9, 0.9, 3}};
constexpr std::size_t steps_a_pace = 1500;   ///< runs that settle take a few hundred, seldom a thousand
constexpr double slowest_shrink = 0.7;       ///< after steps that failed
constexpr double regrow = 3.0;               ///< growth of storage after a step that failed
constexpr double scaling_flow_m3s = 1e-6;    ///< the flow that the first storage is scaled by if none flows
constexpr std::size_t usual_history = 2048;  ///< a run seldom takes more steps
constexpr double no_storage_m2s = 1e-15;     ///< too little to be seen in continuity at any likely head

}  // namespace

void SlowSettling::prepare() {
  keep();
  low_.reserve(head_.size());
  steps_.work().stored_from_m.reserve(head_.size());
  steps_.work().state.history.reserve(usual_history);
}

void SlowSettling::keep() {
  const Workspace& work = steps_.work();
  head_ = work.state.head_m;
  low_ = work.low_m;
  flow_ = work.state.flow_m3s;
  hold_ = work.state.hold;
}

void SlowSettling::give_back() {
  Workspace& work = steps_.work();
  work.state.head_m = head_;
  work.low_m = low_;
  work.state.flow_m3s = flow_;
  work.state.hold = hold_;
  work.state.outcome = Outcome::iteration_limit;
}

bool SlowSettling::try_without_storage() {
  Workspace& work = steps_.work();
  const double kept = work.storage_m2s;
  work.storage_m2s = 0.0;
  if (steps_.iterate(steps_without)) return true;
  work.storage_m2s = kept;
  return false;
}

bool SlowSettling::run() {
  const auto at_pace = [this](const Pace& pace) {
    Workspace& work = steps_.work();
    const std::size_t last_step = work.state.history.size() + steps_a_pace;
    work.carry_low();
    work.first_guess();
    steps_.evaluate();
    work.storage_m2s = pace.storage * std::max(work.total_flow_m3s, scaling_flow_m3s);
    work.stored_from_m = work.state.head_m;
    double shrink = pace.first_shrink;  // the steps grow as long as they succeed
    bool found = false;
    for (int stage = 0;
         stage < most_stages && !found && !steps_.exhausted() && work.state.history.size() < last_step;
         ++stage) {
      keep();
      if (!steps_.iterate(steps_a_stage)) {
        give_back();
        work.storage_m2s *= regrow;
        shrink = std::min(slowest_shrink, std::sqrt(shrink));
        continue;
      }
      work.stored_from_m = work.state.head_m;
      work.storage_m2s *= shrink;
      shrink = std::max(pace.fastest_shrink, 0.8 * shrink);
      const bool last = work.storage_m2s <= no_storage_m2s;
      if (!last && stage % pace.tries_every != pace.tries_every - 1) continue;
      keep();
      found = try_without_storage();
      if (!found && last) break;
      if (!found) give_back();
    }
    work.storage_m2s = 0.0;
    return found;
  };
  return std::any_of(std::begin(paces), std::end(paces),
                     [&](const Pace& pace) { return !steps_.exhausted() && at_pace(pace); });
}

}  // namespace runnel::steady
