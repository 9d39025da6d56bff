#include "runnel/linear/ordering.h"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <bit>
#include <cstdint>

#include "runnel/base/index.h"

namespace runnel::linear {
namespace {

using Couplings = std::vector<std::pair<int, int>>;
constexpr int word_bits = 64;

/// Holds each place's neighbours as the bits of one word, so that eliminating a place costs one "or" a
/// neighbour.
std::vector<int> small_minimum_degree(int n, const Couplings& couplings) {
  std::uint64_t joined[word_bits] = {};
  for (auto [i, j] : couplings) joined[i] |= std::uint64_t{1} << j, joined[j] |= std::uint64_t{1} << i;
  std::vector<int> row(at(n));
  int degree[word_bits];
  for (int v = 0; v < n; ++v) degree[v] = std::popcount(joined[v]);
  std::uint64_t left = n == word_bits ? ~std::uint64_t{0} : (std::uint64_t{1} << n) - 1;
  for (int k = 0; k < n; ++k) {
    int best = -1, least = word_bits + 1;
    for (std::uint64_t rest = left; rest != 0; rest &= rest - 1) {
      const int v = std::countr_zero(rest);
      if (degree[v] < least) best = v, least = degree[v];
      if (least <= 2) break;  // good enough: eliminating a place of degree two fills in one entry at most
    }
    row[at(best)] = k;
    left &= ~(std::uint64_t{1} << best);
    const std::uint64_t clique = joined[best];
    for (std::uint64_t rest = clique; rest != 0; rest &= rest - 1) {
      const int v = std::countr_zero(rest);
      joined[v] = (joined[v] | clique) & left & ~(std::uint64_t{1} << v);
      degree[v] = std::popcount(joined[v]);
    }
  }
  return row;
}

/// Both halves and the diagonal, as Eigen's ordering expects them, repeated couplings once.
Eigen::SparseMatrix<double> pattern_of(int n, const Couplings& couplings) {
  std::vector<int> start(at(n) + 1, 0);
  for (int v = 0; v < n; ++v) start[at(v) + 1] = 1;
  for (auto [i, j] : couplings) ++start[at(i) + 1], ++start[at(j) + 1];
  for (int v = 0; v < n; ++v) start[at(v) + 1] += start[at(v)];
  std::vector<int> rows(at(start[at(n)])), next(start.begin(), start.end() - 1);
  for (int v = 0; v < n; ++v) rows[at(next[at(v)]++)] = v;
  for (auto [i, j] : couplings) rows[at(next[at(i)]++)] = j, rows[at(next[at(j)]++)] = i;
  Eigen::SparseMatrix<double> pattern(n, n);
  pattern.resizeNonZeros(start[at(n)]);
  std::vector<int> seen_in(at(n), -1);
  int kept = 0;
  for (int v = 0; v < n; ++v) {
    pattern.outerIndexPtr()[v] = kept;
    for (int p = start[at(v)]; p < start[at(v) + 1]; ++p) {
      if (seen_in[at(rows[at(p)])] == v) continue;
      seen_in[at(rows[at(p)])] = v;
      pattern.innerIndexPtr()[kept++] = rows[at(p)];
    }
  }
  pattern.outerIndexPtr()[n] = kept;
  pattern.resizeNonZeros(kept);
  return pattern;
}

}  // namespace

std::vector<int> minimum_degree(int n, const Couplings& couplings) {
  if (n <= word_bits) return small_minimum_degree(n, couplings);
  Eigen::SparseMatrix<double> pattern = pattern_of(n, couplings);
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;  // new row -> place
  Eigen::internal::minimum_degree_ordering(pattern,
                                           order);  // the public one would add the pattern to itself first
  std::vector<int> row(at(n));
  for (int k = 0; k < n; ++k) row[at(order.indices()[k])] = k;
  return row;
}

}  // namespace runnel::linear
