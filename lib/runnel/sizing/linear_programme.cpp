#include "runnel/sizing/linear_programme.h"

#include <ClpSimplex.hpp>
#include <CoinPackedMatrix.hpp>
#include <cmath>

namespace runnel::sizing {
namespace {

std::vector<double> bounded(const std::vector<double>& bounds) {
  std::vector<double> out;
  for (const double b : bounds) out.push_back(std::isfinite(b) ? b : std::copysign(COIN_DBL_MAX, b));
  return out;
}

}  // namespace

std::size_t LinearProgramme::add_column(double cost, double low, double high) {
  cost_.push_back(cost);
  low_.push_back(low);
  high_.push_back(high);
  return cost_.size() - 1;
}

std::size_t LinearProgramme::add_row(const std::vector<Entry>& entries, double low, double high) {
  for (const Entry& entry : entries) {
    row_.push_back(static_cast<int>(row_low_.size()));
    column_.push_back(static_cast<int>(entry.column));
    value_.push_back(entry.value);
  }
  row_low_.push_back(low);
  row_high_.push_back(high);
  return row_low_.size() - 1;
}

std::optional<LinearProgramme::Solution> LinearProgramme::solve() const {
  const CoinPackedMatrix matrix(true, row_.data(), column_.data(), value_.data(),
                                static_cast<CoinBigIndex>(value_.size()));
  ClpSimplex simplex;
  simplex.setLogLevel(0);
  simplex.loadProblem(matrix, bounded(low_).data(), bounded(high_).data(), cost_.data(),
                      bounded(row_low_).data(), bounded(row_high_).data());
  simplex.setPrimalTolerance(1e-9);
  simplex.setDualTolerance(1e-9);
  simplex.dual();
  if (!simplex.isProvenOptimal()) return std::nullopt;
  Solution solution;
  solution.cost = simplex.objectiveValue();
  solution.columns.assign(simplex.primalColumnSolution(), simplex.primalColumnSolution() + cost_.size());
  solution.prices.assign(simplex.dualRowSolution(), simplex.dualRowSolution() + row_low_.size());
  return solution;
}

}  // namespace runnel::sizing
