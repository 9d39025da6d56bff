#include "runnel/linear/node_system.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"

namespace runnel::linear {
namespace {
/// Whether the multifrontal method is faster. By measurement it is for well-looped cores from 1,200 places on
/// (it needs fronts large enough to fill) and for every core from 20,000.
bool for_multifrontal(std::size_t places, std::size_t links) {
  return places >= 20000 || (places >= 1200 && 10 * links >= 16 * places);
}
/// LDL^T subtracts conductances from one another: of a double's 16 digits, the least conductance keeps six
/// when the greatest is this many times as great.
constexpr double spread_for_ldl = 1e10;
}  // namespace

NodeSystem::NodeSystem(int places, const std::vector<Ends>& links) : links_(links) {
  // Links at each place, as one array with offsets.
  std::vector<int> start(at(places) + 1, 0), incident;
  auto inner = [](const Ends& e) { return e.a >= 0 && e.b >= 0 && e.a != e.b; };
  for (const Ends& e : links_)
    if (inner(e)) {
      ++start[at(e.a) + 1];
      ++start[at(e.b) + 1];
    }
  for (int v = 0; v < places; ++v) start[at(v) + 1] += start[at(v)];
  incident.resize(at(start[at(places)]));
  std::vector<int> degree(at(places), 0);
  for (std::size_t k = 0; k < links_.size(); ++k)
    if (inner(links_[k]))
      for (int v : {links_[k].a, links_[k].b})
        incident[at(start[at(v)] + degree[at(v)]++)] = static_cast<int>(k);

  // Peel off places of degree one; a place of degree zero is the root of its tree.
  std::vector<char> gone(at(places), 0);
  std::vector<char> used(links_.size(), 0);
  std::vector<int> ready;
  ready.reserve(at(places));
  for (int v = 0; v < places; ++v)
    if (degree[at(v)] <= 1) ready.push_back(v);
  order_.reserve(at(places));
  for (std::size_t next = 0; next < ready.size(); ++next) {
    const int v = ready[next];
    if (gone[at(v)]) continue;
    Peeled step{v, -1, -1};
    for (int p = start[at(v)]; p < start[at(v) + 1]; ++p) {
      const int k = incident[at(p)];
      if (used[at(k)]) continue;
      step.link = k;
      step.parent = links_[at(k)].a == v ? links_[at(k)].b : links_[at(k)].a;
      used[at(k)] = 1;
      if (--degree[at(step.parent)] <= 1) ready.push_back(step.parent);
      break;
    }
    gone[at(v)] = 1;
    order_.push_back(step);
  }
  core_index_.assign(at(places), -1);
  const std::size_t core = at(places) - order_.size();
  core_.reserve(core);
  core_links_.reserve(core > 0 ? links_.size() : 0);
  couplings_.reserve(core > 0 ? links_.size() : 0);
  for (int v = 0; v < places; ++v)
    if (!gone[at(v)]) {
      core_index_[at(v)] = static_cast<int>(core_.size());
      core_.push_back(v);
    }
  for (std::size_t k = 0; k < links_.size(); ++k)
    if (inner(links_[k]) && !gone[at(links_[k].a)] && !gone[at(links_[k].b)]) {
      core_links_.push_back(static_cast<int>(k));
      couplings_.emplace_back(core_index_[at(links_[k].a)], core_index_[at(links_[k].b)]);
    }
  excess_.resize(at(places));
  right_.resize(at(places));
  pivot_.resize(at(places));
}

bool NodeSystem::solve(const std::vector<double>& alpha, const std::vector<double>& beta,
                       const std::vector<double>& ground, const std::vector<double>& rhs,
                       const std::vector<char>& pinned, double leak, std::vector<double>& x) {
  excess_ = ground;
  right_ = rhs;
  for (std::size_t k = 0; k < links_.size(); ++k) {
    const auto [a, b] = links_[k];
    if (a == b) continue;
    const bool a_known = a < 0 || pinned[at(a)], b_known = b < 0 || pinned[at(b)];
    if (a_known && !b_known) {
      excess_[at(b)] += beta[k];
      if (a >= 0) right_[at(b)] += alpha[k] * x[at(a)];
    } else if (b_known && !a_known) {
      excess_[at(a)] += alpha[k];
      if (b >= 0) right_[at(a)] += beta[k] * x[at(b)];
    }
  }
  for (const auto& [v, p, k] : order_) {
    if (pinned[at(v)]) continue;
    const bool joined = p >= 0 && !pinned[at(p)];
    const bool v_is_a = k >= 0 && links_[at(k)].a == v;
    const double into_parent = joined ? (v_is_a ? alpha : beta)[at(k)] : 0.0;  // -entry (p, v)
    const double from_parent = joined ? (v_is_a ? beta : alpha)[at(k)] : 0.0;  // -entry (v, p)
    double pivot = excess_[at(v)] + into_parent;
    if (pivot < leak) {
      excess_[at(v)] += leak;
      pivot += leak;
    }
    pivot_[at(v)] = pivot;
    if (joined) {
      excess_[at(p)] += from_parent * (excess_[at(v)] / pivot);
      right_[at(p)] += into_parent * (right_[at(v)] / pivot);
    }
  }
  if (!core_.empty() && !solve_core(alpha, beta, pinned, leak, x)) return false;
  substitute_back(alpha, beta, pinned, x);
  return true;
}

void NodeSystem::substitute_back(const std::vector<double>& alpha, const std::vector<double>& beta,
                                 const std::vector<char>& pinned, std::vector<double>& x) const {
  for (auto step = order_.rbegin(); step != order_.rend(); ++step) {
    const auto& [v, p, k] = *step;
    if (pinned[at(v)]) continue;
    double r = right_[at(v)];
    if (p >= 0 && !pinned[at(p)]) r += (links_[at(k)].a == v ? beta : alpha)[at(k)] * x[at(p)];
    x[at(v)] = r / pivot_[at(v)];
  }
}

void NodeSystem::take_known_heads(const std::vector<double>& alpha, const std::vector<double>& beta,
                                  const std::vector<char>& pinned, const std::vector<double>& x) {
  if (std::find(pinned.begin(), pinned.end(), 1) == pinned.end()) return;
  for (std::size_t k = 0; k < links_.size(); ++k) {
    const auto [a, b] = links_[k];
    if (a < 0 || b < 0 || a == b || pinned[at(a)] == pinned[at(b)]) continue;
    if (pinned[at(a)])
      right_[at(b)] += alpha[k] * x[at(a)];
    else
      right_[at(a)] += beta[k] * x[at(b)];
  }
}

void NodeSystem::solve_again(const std::vector<double>& alpha, const std::vector<double>& beta,
                             const std::vector<double>& rhs, const std::vector<char>& pinned,
                             std::vector<double>& x) {
  right_ = rhs;
  take_known_heads(alpha, beta, pinned, x);
  for (const auto& [v, p, k] : order_)
    if (p >= 0 && !pinned[at(v)] && !pinned[at(p)])
      right_[at(p)] += (links_[at(k)].a == v ? alpha : beta)[at(k)] * (right_[at(v)] / pivot_[at(v)]);
  if (!core_.empty()) {
    take_core_rhs(pinned, x);
    switch (factors_) {
      case Factors::ldl:
        ldl_.solve(core_rhs_);
        break;
      case Factors::multifrontal:
        multifrontal_.solve(core_rhs_);
        break;
      case Factors::dominant:
        dominant_.solve(core_rhs_);
        break;
    }
    for (std::size_t i = 0; i < core_.size(); ++i) x[at(core_[i])] = core_rhs_[i];
  }
  substitute_back(alpha, beta, pinned, x);
}

void NodeSystem::take_core_rhs(const std::vector<char>& pinned, const std::vector<double>& x) {
  core_rhs_.resize(core_.size());
  for (std::size_t i = 0; i < core_.size(); ++i) {
    const std::size_t v = at(core_[i]);
    core_rhs_[i] = pinned[v] ? x[v] : right_[v];
  }
}

void NodeSystem::prepare() {
  if (core_.empty()) return;
  dominant_.analyse(static_cast<int>(core_.size()), couplings_);
  analyse_symmetric();
}

void NodeSystem::analyse_symmetric() {
  if (analysed_) return;
  const int n = static_cast<int>(core_.size());
  if (for_multifrontal(core_.size(), core_links_.size()))
    multifrontal_.analyse(n, couplings_);
  else
    ldl_.analyse(n, couplings_);
  analysed_ = true;
}

/// Of the core's links with both ends free: the greatest and least conductance, and whether every link has
/// the same one either way.
NodeSystem::Core NodeSystem::look(const std::vector<double>& alpha, const std::vector<double>& beta,
                                  const std::vector<char>& pinned) const {
  Core core;
  for (int k : core_links_) {
    const auto [a, b] = links_[at(k)];
    const double there = alpha[at(k)], back = beta[at(k)];
    if (pinned[at(a)] || pinned[at(b)]) continue;
    if (there != back) core.symmetric = false;
    core.greatest = std::max({core.greatest, there, back});
    if (there > 0.0) core.least = std::min(core.least, there);
  }
  return core;
}

bool NodeSystem::solve_core(const std::vector<double>& alpha, const std::vector<double>& beta,
                            const std::vector<char>& pinned, double leak, std::vector<double>& x) {
  const std::size_t n = core_.size();
  take_core_rhs(pinned, x);
  const Core core = look(alpha, beta, pinned);
  const bool large = for_multifrontal(n, core_links_.size());
  const bool narrow = large || core.greatest <= spread_for_ldl * core.least;
  if (core.symmetric && narrow) {
    // A pivot smaller than this, left over from subtracting conductances, is rounding.
    const double least = std::max(leak, 1e-14 * core.greatest);
    analyse_symmetric();
    factors_ = large ? Factors::multifrontal : Factors::ldl;
    if (!(large ? solve_by(multifrontal_, alpha, pinned, least) : solve_by(ldl_, alpha, pinned, least)))
      return false;
  } else if (!solve_dominant(alpha, beta, pinned, leak)) {
    return false;
  }
  for (std::size_t i = 0; i < n; ++i) x[at(core_[i])] = core_rhs_[i];
  return true;
}

template <class Method>
bool NodeSystem::solve_by(Method& method, const std::vector<double>& alpha, const std::vector<char>& pinned,
                          double least) {
  std::vector<double>& diagonal = pivot_;  // of each column: its excess plus the sizes of its other entries
  for (int v : core_) diagonal[at(v)] = pinned[at(v)] ? 1.0 : std::max(excess_[at(v)], least);
  method.clear();
  for (std::size_t c = 0; c < core_links_.size(); ++c) {
    const auto k = at(core_links_[c]);
    const auto a = at(links_[k].a), b = at(links_[k].b);
    if (pinned[a] || pinned[b]) continue;
    diagonal[a] += alpha[k];
    diagonal[b] += alpha[k];
    method.add_coupling(c, -alpha[k]);
  }
  for (std::size_t i = 0; i < core_.size(); ++i)
    method.add_diagonal(static_cast<int>(i), diagonal[at(core_[i])]);
  if (!method.factorise()) return false;
  method.solve(core_rhs_);
  return true;
}

bool NodeSystem::solve_dominant(const std::vector<double>& alpha, const std::vector<double>& beta,
                                const std::vector<char>& pinned, double leak) {
  if (!dominant_.analysed()) dominant_.analyse(static_cast<int>(core_.size()), couplings_);
  dominant_.clear();
  factors_ = Factors::dominant;
  for (std::size_t i = 0; i < core_.size(); ++i) {
    const std::size_t v = at(core_[i]);
    dominant_.add_excess(static_cast<int>(i), pinned[v] ? 1.0 : excess_[v]);
  }
  for (std::size_t c = 0; c < core_links_.size(); ++c) {
    const std::size_t k = at(core_links_[c]);
    if (!pinned[at(links_[k].a)] && !pinned[at(links_[k].b)]) dominant_.add_coupling(c, beta[k], alpha[k]);
  }
  if (!dominant_.factorise(leak)) return false;
  dominant_.solve(core_rhs_);
  return std::all_of(core_rhs_.begin(), core_rhs_.end(), [](double value) { return std::isfinite(value); });
}

}  // namespace runnel::linear
