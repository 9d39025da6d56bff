#include "runnel/linear/node_system.h"

#include <Eigen/SparseLU>
#include <algorithm>
#include <cmath>

namespace runnel::linear {
namespace {
std::size_t at(int i) { return static_cast<std::size_t>(i); }
/// Where the multifrontal method is quicker, by measurement: well-looped cores from 1,200 places on (it needs
/// fronts to fill), and every core from 20,000.
bool for_multifrontal(std::size_t places, std::size_t links) {
  return places >= 20000 || (places >= 1200 && 10 * links >= 16 * places);
}
}  // namespace

struct NodeSystem::Lu {
  Eigen::SparseMatrix<double> matrix;
  Eigen::SparseLU<Eigen::SparseMatrix<double>> factor;
};

NodeSystem::~NodeSystem() = default;
NodeSystem::NodeSystem(NodeSystem&&) noexcept = default;
NodeSystem& NodeSystem::operator=(NodeSystem&&) noexcept = default;

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

  // Peel places of degree one; a place of degree zero is the root of its tree.
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
  for (auto step = order_.rbegin(); step != order_.rend(); ++step) {
    const auto& [v, p, k] = *step;
    if (pinned[at(v)]) continue;
    double r = right_[at(v)];
    if (p >= 0 && !pinned[at(p)]) r += (links_[at(k)].a == v ? beta : alpha)[at(k)] * x[at(p)];
    x[at(v)] = r / pivot_[at(v)];
  }
  return true;
}

bool NodeSystem::solve_core(const std::vector<double>& alpha, const std::vector<double>& beta,
                            const std::vector<char>& pinned, double leak, std::vector<double>& x) {
  const int n = static_cast<int>(core_.size());
  bool symmetric = true;
  for (int k : core_links_)
    if (alpha[at(k)] != beta[at(k)]) symmetric = false;
  core_rhs_.resize(at(n));
  // Each column's diagonal: its excess and the entries it has in other rows.
  std::vector<double>& diagonal = pivot_;
  for (int v : core_) diagonal[at(v)] = std::max(excess_[at(v)], leak);
  for (int k : core_links_) {
    const auto [a, b] = links_[at(k)];
    if (pinned[at(a)] || pinned[at(b)]) continue;
    diagonal[at(a)] += alpha[at(k)];
    diagonal[at(b)] += beta[at(k)];
  }
  for (int i = 0; i < n; ++i) {
    const int v = core_[at(i)];
    if (pinned[at(v)]) diagonal[at(v)] = 1.0;
    core_rhs_[at(i)] = pinned[at(v)] ? x[at(v)] : right_[at(v)];
  }
  auto both_free = [&](int k) { return !pinned[at(links_[at(k)].a)] && !pinned[at(links_[at(k)].b)]; };
  if (symmetric) {
    const auto solve_by = [&](auto& method) {
      if (!analysed_) method.analyse(n, couplings_), analysed_ = true;
      method.clear();
      for (int i = 0; i < n; ++i) method.add_diagonal(i, diagonal[at(core_[at(i)])]);
      for (std::size_t c = 0; c < core_links_.size(); ++c)
        if (both_free(core_links_[c])) method.add_coupling(c, -alpha[at(core_links_[c])]);
      if (!method.factorise()) return false;
      method.solve(core_rhs_);
      return true;
    };
    if (!(for_multifrontal(core_.size(), core_links_.size()) ? solve_by(multifrontal_) : solve_by(ldl_))) return false;
  } else {
    if (!lu_) lu_ = std::make_unique<Lu>();
    std::vector<Eigen::Triplet<double>> entries;
    for (int i = 0; i < n; ++i) entries.emplace_back(i, i, diagonal[at(core_[at(i)])]);
    for (std::size_t c = 0; c < core_links_.size(); ++c) {
      const int k = core_links_[c];
      if (!both_free(k)) continue;
      entries.emplace_back(couplings_[c].second, couplings_[c].first, -alpha[at(k)]);
      entries.emplace_back(couplings_[c].first, couplings_[c].second, -beta[at(k)]);
    }
    lu_->matrix.resize(n, n);
    lu_->matrix.setFromTriplets(entries.begin(), entries.end());
    lu_->factor.compute(lu_->matrix);
    if (lu_->factor.info() != Eigen::Success) return false;
    Eigen::VectorXd b = Eigen::Map<Eigen::VectorXd>(core_rhs_.data(), n);
    Eigen::VectorXd s = lu_->factor.solve(b);
    if (!s.allFinite()) return false;
    std::copy(s.data(), s.data() + n, core_rhs_.begin());
  }
  for (int i = 0; i < n; ++i) x[at(core_[at(i)])] = core_rhs_[at(i)];
  return true;
}

}  // namespace runnel::linear
