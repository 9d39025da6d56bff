#include "runnel/steady/kernel_solver.h"

#include <algorithm>
#include <utility>

#include "runnel/base/index.h"
#include "runnel/steady/newton.h"

namespace runnel::steady {
namespace {

// A small change takes three or four steps from the last state. One that needs more than this had better be
// solved from nothing.
constexpr int near_steps = 10;
// Most systems settle in 4 to 12 steps, damped ones in 30; one that has not settled by now is circling.
constexpr int plain_steps = 40;

/// Writes what holds take up in the form that the answer gives it.
void write_surplus(Workspace& work) {
  work.state.surplus_m3s = work.net_m3s;
  for (std::size_t v = 0; v < work.net_m3s.size(); ++v)
    if (work.state.hold[v] == Hold::free && !work.kernel.nodes[v].fixed)
      work.state.surplus_m3s[v] = work.kernel.nodes[v].draw_m3s;
}

/// Answers that are only steps to the next need not be closer than very close.
NewtonOptions for_many(NewtonOptions options) {
  options.to_round_off = false;
  return options;
}

void finish(NewtonSteps& steps, bool found) {
  if (found) {
    steps.work().state.outcome = Outcome::settled;
    steps.polish();
  }
  write_surplus(steps.work());
}

}  // namespace

void search(NewtonSteps& steps, SlowSettling& slow) {
  Workspace& work = steps.work();
  work.state.history.clear();
  work.state.outcome = Outcome::iteration_limit;
  work.first_guess();
  // First with every line full, which is a convex problem; then with all controls but mouths, which hardly
  // ever govern and mislead while levels are far from where they will be; then with mouths as well.
  const auto round = [&](bool ends_only, bool past_mouths) {
    work.ends_only = ends_only;
    work.past_mouths = past_mouths;
    return steps.iterate(plain_steps);
  };
  const bool mouths = !work.kernel.mouths.empty();
  bool found = round(!work.ends_suffice, mouths);
  if (found && (work.ends_suffice || (mouths && steps.stands_with_all_controls())))
    return finish(steps, true);
  found = found && round(false, mouths);
  work.ends_only = false;
  if (!found) found = slow.run();
  if (mouths) {
    found = found && round(false, false);
    work.past_mouths = false;
    if (!found) found = slow.run();
  }
  finish(steps, found);
}

bool search_near(NewtonSteps& steps) {
  steps.work().state.history.clear();
  steps.work().state.outcome = Outcome::iteration_limit;
  if (!steps.iterate_near(near_steps)) return false;
  finish(steps, true);
  return true;
}

KernelSolver::KernelSolver(Kernel kernel, const NewtonOptions& options)
    : kernel_(std::move(kernel)), steps_(kernel_, for_many(options)), slow_(steps_) {
  changed_links_.reserve(kernel_.links.size());
  steps_.prepare();
  slow_.prepare();
  steps_.work().read_kernel();
  steps_.work().first_guess();
}

KernelNode& KernelSolver::changed_place(int node) {
  places_changed_ = true;
  return kernel_.nodes[at(node)];
}

void KernelSolver::set_head(int node, double head_m) { changed_place(node).head_m = head_m; }
void KernelSolver::set_inflow(int node, double inflow_m3s) { changed_place(node).inflow_m3s = inflow_m3s; }
void KernelSolver::set_lip(int node, double lip_m) { changed_place(node).lip_m = lip_m; }

void KernelSolver::set_draw(int node, double draw_m3s, double floor_m) {
  changed_place(node).draw_m3s = draw_m3s;
  changed_place(node).draw_floor_m = floor_m;
}

Link& KernelSolver::changed(int link) {
  const auto k = static_cast<std::uint32_t>(link);
  if (changed_links_.empty() || changed_links_.back() != k) {
    if (changed_links_.size() == changed_links_.capacity()) {  // many changes: each link once is enough
      std::sort(changed_links_.begin(), changed_links_.end());
      changed_links_.erase(std::unique(changed_links_.begin(), changed_links_.end()), changed_links_.end());
    }
    changed_links_.push_back(k);
  }
  return kernel_.links[k];
}

void KernelSolver::set_shut(int link, bool shut) { changed(link).shut = shut; }
void KernelSolver::set_most(int link, double most_m3s) {
  changed(link).most_m3s = most_m3s;
  controls_changed_ = true;
}

void KernelSolver::set_start(int link, double start_m3s, double smooth_m3s) {
  changed(link).start_m3s = start_m3s;
  changed(link).smooth_m3s = smooth_m3s;
}

void KernelSolver::set_pipe(int link, int pipe, const losses::PipeFriction& friction) {
  kernel_.terms[changed(link).term + static_cast<std::uint32_t>(pipe)] = friction;
}

void KernelSolver::set_control(int link, std::uint32_t control, const Control& to, const double* lengths_m) {
  Control& old = kernel_.controls[control];
  const std::uint32_t lengths = old.lengths;
  const int mouth = old.mouth;
  std::copy(lengths_m, lengths_m + changed(link).terms, kernel_.lengths_m.begin() + lengths);
  old = to;
  old.lengths = lengths;
  old.mouth = mouth;
  controls_changed_ = true;
}

void KernelSolver::set_mouth(int link, bool forward, const LinkMouth& mouth) {
  const Control& control = kernel_.controls[at(changed(link).mouth(forward))];
  kernel_.mouths[at(control.mouth)] = mouth;
}

Control KernelSolver::idle(Control control) {
  control.from_node = true;
  control.to_node = false;
  control.sink_head_m = -unbounded;
  return control;
}

void KernelSolver::take_over() {
  steps_.update(changed_links_);
  changed_links_.clear();
  if (controls_changed_)
    steps_.work().read_kernel();
  else if (places_changed_)
    steps_.work().read_places();
  places_changed_ = controls_changed_ = false;
}

const KernelState& KernelSolver::solve() {
  take_over();
  search(steps_, slow_);
  found_near_ = false;
  settled_before_ = state().outcome == Outcome::settled;
  return state();
}

const KernelState& KernelSolver::solve_near() {
  if (!settled_before_) return solve();
  take_over();
  Workspace& work = steps_.work();
  for (std::size_t v = 0; v < kernel_.nodes.size(); ++v)
    if (kernel_.nodes[v].fixed) work.set_head(v, kernel_.nodes[v].head_m);
  found_near_ = search_near(steps_);
  if (found_near_) return state();
  return solve();
}

KernelState solve(const Kernel& kernel, const NewtonOptions& options) {
  NewtonSteps steps(kernel, options);
  steps.work().read_kernel();
  if (const KernelState* near = options.near; near && near->head_m.size() == kernel.nodes.size()) {
    steps.work().start_from(*near);
    if (search_near(steps)) return std::move(steps.work().state);
  }
  SlowSettling slow(steps);
  search(steps, slow);
  return std::move(steps.work().state);
}

}  // namespace runnel::steady
