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

struct LinearProgramme::Kept {
  ClpSimplex simplex;
  bool solved = false;

  explicit Kept(const LinearProgramme& of) {
    const CoinPackedMatrix matrix(true, of.row_.data(), of.column_.data(), of.value_.data(),
                                  static_cast<CoinBigIndex>(of.value_.size()));
    simplex.setLogLevel(0);
    simplex.loadProblem(matrix, bounded(of.low_).data(), bounded(of.high_).data(), of.cost_.data(),
                        bounded(of.row_low_).data(), bounded(of.row_high_).data());
    simplex.setPrimalTolerance(1e-9);
    simplex.setDualTolerance(1e-9);
  }
};

std::optional<LinearProgramme::Solution> LinearProgramme::solve() const {
  Kept kept(*this);
  ClpSimplex& simplex = kept.simplex;
  simplex.dual();
  // The tolerances hold for scaled rows, so solve once more from the same corner with the rows unscaled.
  simplex.scaling(0);
  simplex.dual();
  if (!simplex.isProvenOptimal()) return std::nullopt;
  Solution solution;
  solution.cost = simplex.objectiveValue();
  solution.columns.assign(simplex.primalColumnSolution(), simplex.primalColumnSolution() + cost_.size());
  solution.prices.assign(simplex.dualRowSolution(), simplex.dualRowSolution() + row_low_.size());
  return solution;
}

std::optional<double> LinearProgramme::least_of(const std::vector<Entry>& sum) {
  if (!kept_) kept_ = std::make_shared<Kept>(*this);
  ClpSimplex& simplex = kept_->simplex;
  std::vector<double> objective(cost_.size(), 0.0);
  for (const Entry& entry : sum) objective[entry.column] += entry.value;
  for (std::size_t c = 0; c < objective.size(); ++c)
    simplex.setObjectiveCoefficient(static_cast<int>(c), objective[c]);
  kept_->solved ? simplex.primal() : simplex.dual();
  kept_->solved = simplex.isProvenOptimal();
  return kept_->solved ? std::optional(simplex.objectiveValue()) : std::nullopt;
}

}  // namespace runnel::sizing
