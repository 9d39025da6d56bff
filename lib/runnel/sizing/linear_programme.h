#pragma once
// A linear programme, solved by the simplex code of Clp (COIN-OR). Only its own file sees Clp's headers.
#include <cstddef>
#include <limits>
#include <memory>
#include <optional>
#include <vector>

namespace runnel::sizing {

class LinearProgramme {
 public:
  static constexpr double endless = std::numeric_limits<double>::infinity();

  struct Entry {
    std::size_t column;
    double value;
  };

  /// Adds a column whose value is chosen between `low` and `high`; returns its number.
  std::size_t add_column(double cost, double low, double high = endless);
  /// Adds a row: the sum of its entries lies between `low` and `high`. Returns its number.
  std::size_t add_row(const std::vector<Entry>& entries, double low, double high);
  std::size_t columns() const { return cost_.size(); }

  struct Solution {
    double cost = 0.0;
    std::vector<double> columns;
    std::vector<double> prices;  ///< for each row, what raising its bound by one would cost
  };
  /// The cheapest choice; nothing if there is none, or if the simplex code gives up.
  std::optional<Solution> solve() const;

  /// The least that a sum of columns can be, whatever it costs; nothing if the simplex code gives up. Each
  /// call starts from the last solution, so nothing may be added in between.
  std::optional<double> least_of(const std::vector<Entry>& sum);

 private:
  struct Kept;
  std::shared_ptr<Kept> kept_;
  std::vector<double> cost_, low_, high_, row_low_, row_high_, value_;
  std::vector<int> row_, column_;
};

}  // namespace runnel::sizing
