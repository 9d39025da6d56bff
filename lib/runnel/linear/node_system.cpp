#include "runnel/linear/node_system.h"

#include <algorithm>
#include <cmath>
#include <cstring>

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

/// Whether any is 1, which memchr finds sixteen at a time and more.
bool any(const std::vector<char>& flags) {
  return !flags.empty() && std::memchr(flags.data(), 1, flags.size()) != nullptr;
}
}  // namespace

NodeSystem::NodeSystem(int places, const std::vector<Ends>& links) : links_(links) {
  const auto inner = [](const Ends& e) { return e.a >= 0 && e.b >= 0 && e.a != e.b; };
  const auto fixed_end = [](const Ends& e) { return (e.a < 0) != (e.b < 0); };
  at_fixed_.reserve(static_cast<std::size_t>(std::count_if(links_.begin(), links_.end(), fixed_end)));
  // Of the links of a place that are left, how many they are and their numbers joined by exclusive or: of one
  // that has a single link left this is the link's own number.
  struct Left {
    int count = 0;
    std::uint32_t links = 0;
  };
  constexpr int gone = -1;
  std::vector<Left> left(at(places));
  for (std::size_t k = 0; k < links_.size(); ++k) {
    const Ends& e = links_[k];
    const auto number = static_cast<std::uint32_t>(k);
    if (fixed_end(e)) at_fixed_.push_back(number);
    if (!inner(e)) continue;
    for (Left* place : {&left[at(e.a)], &left[at(e.b)]}) ++place->count, place->links ^= number;
  }

  // Peel off places of degree one; a place of degree zero is the root of its tree.
  std::vector<int> ready;
  ready.reserve(at(places));
  for (int v = 0; v < places; ++v)
    if (left[at(v)].count <= 1) ready.push_back(v);
  order_.reserve(at(places));
  for (std::size_t next = 0; next < ready.size(); ++next) {
    const int v = ready[next];
    const auto [count, link] = left[at(v)];
    if (count == gone) continue;
    left[at(v)].count = gone;
    if (count == 0) {
      order_.push_back({v, -1, -1});
      continue;
    }
    const int parent = links_[link].a == v ? links_[link].b : links_[link].a;
    order_.push_back({v, parent, static_cast<int>(link)});
    left[at(parent)].links ^= link;
    if (--left[at(parent)].count <= 1) ready.push_back(parent);
  }
  excess_.resize(at(places));
  right_.resize(at(places));
  pivot_.resize(at(places));

  const std::size_t core = at(places) - order_.size();
  if (core == 0) return;
  std::vector<int> row(at(places), -1);  // in the core
  core_.reserve(core);
  core_links_.reserve(links_.size());
  couplings_.reserve(links_.size());
  for (int v = 0; v < places; ++v)
    if (left[at(v)].count != gone) {
      row[at(v)] = static_cast<int>(core_.size());
      core_.push_back(v);
    }
  for (std::size_t k = 0; k < links_.size(); ++k)
    if (inner(links_[k]) && left[at(links_[k].a)].count != gone && left[at(links_[k].b)].count != gone) {
      core_links_.push_back(static_cast<int>(k));
      couplings_.emplace_back(row[at(links_[k].a)], row[at(links_[k].b)]);
    }
}

bool NodeSystem::solve(const std::vector<double>& alpha, const std::vector<double>& beta,
                       const std::vector<double>& ground, const std::vector<double>& rhs,
                       const std::vector<char>& pinned, double leak, std::vector<double>& x) {
  excess_ = ground;
  right_ = rhs;
  const bool any_pinned = any(pinned);
  const std::size_t links = any_pinned ? links_.size() : at_fixed_.size();
  for (std::size_t l = 0; l < links; ++l) {
    const std::size_t k = any_pinned ? l : at_fixed_[l];
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
  if (!any(pinned)) return;
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
