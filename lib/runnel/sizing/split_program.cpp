#include "runnel/sizing/split_program.h"

#include <ClpSimplex.hpp>
#include <CoinPackedMatrix.hpp>
#include <algorithm>
#include <cmath>

namespace runnel::sizing {
namespace {

using network::TreeBranch;
using network::TreeChoice;

/// Columns: the fall of head from the source to the end of each branch, then the shares, branch by branch.
/// Rows: for each branch its fall is not less than what it loses; then for each that its shares are the
/// whole.
void build(const TreeChoice& choice, ClpSimplex& simplex) {
  std::vector<int> row, column;
  std::vector<double> value, low, high, cost;
  const auto add = [&](std::size_t r, std::size_t c, double v) {
    row.push_back(static_cast<int>(r));
    column.push_back(static_cast<int>(c));
    value.push_back(v);
  };
  const std::size_t branches = choice.branches.size();
  for (const TreeBranch& branch : choice.branches) {
    low.push_back(-COIN_DBL_MAX);
    high.push_back(std::isfinite(branch.floor_m) ? choice.head_m - branch.floor_m : COIN_DBL_MAX);
    cost.push_back(0.0);
  }
  for (std::size_t b = 0; b < branches; ++b) {
    const TreeBranch& branch = choice.branches[b];
    add(b, b, 1.0);
    if (branch.above > 0) add(b, static_cast<std::size_t>(branch.above) - 1, -1.0);
    for (const auto& option : branch.options) {
      add(b, cost.size(), -option.loss_m);
      add(branches + b, cost.size(), 1.0);
      low.push_back(0.0);
      high.push_back(COIN_DBL_MAX);
      cost.push_back(option.cost);
    }
  }
  std::vector<double> row_low(branches, 0.0), row_high(branches, COIN_DBL_MAX);
  row_low.resize(2 * branches, 1.0);
  row_high.resize(2 * branches, 1.0);
  const CoinPackedMatrix matrix(true, row.data(), column.data(), value.data(),
                                static_cast<CoinBigIndex>(value.size()));
  simplex.loadProblem(matrix, low.data(), high.data(), cost.data(), row_low.data(), row_high.data());
}

void read_shares(const TreeChoice& choice, const double* solution, SplitAnswer& answer) {
  answer.head_m.assign(1, choice.head_m);
  for (const TreeBranch& branch : choice.branches) {
    std::vector<double> shares;
    double whole = 0.0;
    for (std::size_t k = 0; k < branch.options.size(); ++k) {
      shares.push_back(*solution > 1e-12 ? *solution : 0.0);
      whole += shares.back();
      ++solution;
    }
    double loss_m = 0.0;
    for (std::size_t k = 0; k < shares.size(); ++k) {
      shares[k] /= whole;
      loss_m += shares[k] * branch.options[k].loss_m;
      answer.cost += shares[k] * branch.options[k].cost;
    }
    answer.head_m.push_back(answer.head_m[static_cast<std::size_t>(branch.above)] - loss_m);
    answer.shares.push_back(std::move(shares));
  }
}

/// Prices from the ends up, so that head is sold at each place for exactly what it was bought; then what they
/// prove.
network::SplitProof proof_of(const TreeChoice& choice, const double* duals) {
  network::SplitProof proof;
  proof.price_per_m.assign(choice.branches.size(), 0.0);
  std::vector<double> dual_below(choice.branches.size() + 1, 0.0), price_below(dual_below);
  for (std::size_t b = choice.branches.size(); b-- > 0;) {
    const TreeBranch& branch = choice.branches[b];
    const double kept = std::isfinite(branch.floor_m) ? std::max(0.0, duals[b] - dual_below[b + 1]) : 0.0;
    const double price = kept + price_below[b + 1];
    proof.price_per_m[b] = price;
    dual_below[static_cast<std::size_t>(branch.above)] += duals[b];
    price_below[static_cast<std::size_t>(branch.above)] += price;
    double cheapest = std::numeric_limits<double>::infinity();
    for (const auto& option : branch.options)
      cheapest = std::min(cheapest, option.cost + price * option.loss_m);
    proof.cost += cheapest;
    if (kept > 0.0) proof.cost += kept * (branch.floor_m - choice.head_m);
  }
  return proof;
}

}  // namespace

SplitAnswer cheapest_split(const TreeChoice& choice) {
  SplitAnswer answer;
  ClpSimplex simplex;
  simplex.setLogLevel(0);
  build(choice, simplex);
  simplex.setPrimalTolerance(1e-9);
  simplex.setDualTolerance(1e-9);
  simplex.dual();
  if (!simplex.isProvenOptimal()) return answer;
  answer.found = true;
  read_shares(choice, simplex.primalColumnSolution() + choice.branches.size(), answer);
  answer.proof = proof_of(choice, simplex.dualRowSolution());
  return answer;
}

}  // namespace runnel::sizing
