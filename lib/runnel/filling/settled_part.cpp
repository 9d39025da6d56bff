#include "runnel/filling/settled_part.h"

#include <algorithm>

#include "runnel/base/index.h"
#include "runnel/steady/link_law.h"
#include "runnel/steady/newton.h"

namespace runnel::filling {
namespace {

using steady::Kernel;
using steady::Link;

// Over a mouth that is about to run dry a film of a nanometre carries water, so heads are settled more
// closely than in an answer of `steady`.
const steady::NewtonOptions fine{.max_iterations = 120, .energy_m = 1e-12, .continuity_share = 1e-12};
// Steps that a search near the last state takes before it begins anew; they count as work.
constexpr long lost_steps = 10;
// The least pivot, as a share of the steepest conductance, so that a place whose links do not respond does
// not make the system singular.
constexpr double leak_share = 1e-20;

std::vector<int> rows_of(const Kernel& kernel) {
  std::vector<int> row(kernel.nodes.size(), -1);
  int next = 0;
  for (std::size_t v = 0; v < row.size(); ++v)
    if (!kernel.nodes[v].fixed) row[v] = next++;
  return row;
}

linear::NodeSystem system_of(const Kernel& kernel, const std::vector<int>& row) {
  std::vector<linear::Ends> ends;
  for (const Link& link : kernel.links) ends.push_back({row[at(link.a)], link.b >= 0 ? row[at(link.b)] : -1});
  return {static_cast<int>(row.size()) - static_cast<int>(std::count(row.begin(), row.end(), -1)), ends};
}

}  // namespace

SettledPart::SettledPart(Part part)
    : nodes_(std::move(part.nodes)),
      links_(std::move(part.links)),
      solver_(std::make_unique<steady::KernelSolver>(std::move(part.kernel), fine)),
      row_(rows_of(kernel())),
      system_(system_of(kernel(), row_)),
      alpha_(links_.size(), 0.0),
      beta_(links_.size(), 0.0) {
  const std::size_t free = nodes_.size() - at(static_cast<int>(std::count(row_.begin(), row_.end(), -1)));
  ground_.assign(free, 0.0);
  rhs_.assign(free, 0.0);
  rise_.assign(free, 0.0);
  pinned_.assign(free, 0);
  links_at_.resize(nodes_.size());
  for (std::size_t k = 0; k < links_.size(); ++k)
    for (const int end : {kernel().links[k].a, kernel().links[k].b})
      if (end >= 0) links_at_[at(end)].push_back(static_cast<int>(k));
}

bool SettledPart::all_shut_at(int place) const {
  const auto& links = links_at_[at(place)];
  return std::all_of(links.begin(), links.end(), [&](int k) { return kernel().links[at(k)].shut; });
}

void SettledPart::set_level(int place, double level_m) {
  if (kernel().nodes[at(place)].head_m == level_m) return;
  solver_->set_head(place, level_m);
  changed_ = changed_ || !all_shut_at(place);  // behind shut valves nothing feels it
}

void SettledPart::set_draw(int place, double draw_m3s, double floor_m) {
  const steady::KernelNode& node = kernel().nodes[at(place)];
  if (node.draw_m3s == draw_m3s && node.draw_floor_m == floor_m) return;
  solver_->set_draw(place, draw_m3s, floor_m);
  changed_ = true;
}

void SettledPart::set_valve(int link, bool shut, double most_m3s) {
  const Link& now = kernel().links[at(link)];
  if (now.shut == shut && now.most_m3s == most_m3s) return;
  solver_->set_shut(link, shut);
  solver_->set_most(link, most_m3s);
  changed_ = true;
}

bool SettledPart::settle(long& work) {
  if (!changed_) return settled_;
  changed_ = linear_ = false;
  solver_->solve_near();
  work += static_cast<long>(solver_->state().history.size()) + (solver_->found_near() ? 0 : lost_steps);
  if (solver_->state().outcome == steady::Outcome::settled) {
    rough_.reset();
    return settled_ = true;
  }
  settle_roughly(work);
  return settled_ = rough_->outcome == steady::Outcome::settled;
}

/// Settles only as closely as an answer of `steady`.
void SettledPart::settle_roughly(long& work) {
  steady::NewtonOptions options;
  const std::optional<steady::KernelState> before = std::move(rough_);
  if (before && before->outcome == steady::Outcome::settled) options.near = &*before;
  rough_ = steady::solve(kernel(), options);
  work += static_cast<long>(rough_->history.size());
}

void SettledPart::read_slopes() {
  const Kernel& own = kernel();
  const steady::KernelState& now = state();
  for (std::size_t k = 0; k < own.links.size(); ++k) {
    const Link& link = own.links[k];
    const double ha = now.head_m[at(link.a)], hb = link.b >= 0 ? now.head_m[at(link.b)] : 0.0;
    const steady::LinkStep step = steady::linearise(own, link, now.flow_m3s[k], ha, hb);
    alpha_[k] = step.alpha;
    beta_[k] = step.beta;
  }
  for (std::size_t v = 0; v < row_.size(); ++v)
    if (row_[v] >= 0)
      pinned_[at(row_[v])] = now.hold[v] == steady::Hold::lip || now.hold[v] == steady::Hold::draw_short;
  linear_ = true;
}

bool SettledPart::slopes(int place, std::vector<double>& flow_m2s) {
  if (!settled_) return false;
  if (!linear_) read_slopes();
  const Kernel& own = kernel();
  std::fill(rhs_.begin(), rhs_.end(), 0.0);
  std::fill(rise_.begin(), rise_.end(), 0.0);
  double steepest = 0.0;
  for (std::size_t k = 0; k < own.links.size(); ++k) {
    const auto [a, b] = std::pair(own.links[k].a, own.links[k].b);
    if (a == place && b >= 0 && row_[at(b)] >= 0) rhs_[at(row_[at(b)])] += alpha_[k];
    if (b == place && row_[at(a)] >= 0) rhs_[at(row_[at(a)])] += beta_[k];
    steepest = std::max({steepest, alpha_[k], beta_[k]});
  }
  const double leak = leak_share * (steepest > 0.0 ? steepest : 1.0);
  if (!rise_.empty() && !system_.solve(alpha_, beta_, ground_, rhs_, pinned_, leak, rise_)) return false;
  const auto rise = [&](int v) {
    return v < 0 ? 0.0 : v == place ? 1.0 : row_[at(v)] >= 0 ? rise_[at(row_[at(v)])] : 0.0;
  };
  flow_m2s.resize(own.links.size());
  for (std::size_t k = 0; k < own.links.size(); ++k)
    flow_m2s[k] = alpha_[k] * rise(own.links[k].a) - beta_[k] * rise(own.links[k].b);
  return true;
}

}  // namespace runnel::filling
