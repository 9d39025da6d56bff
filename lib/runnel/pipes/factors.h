#pragma once
// How much of its rating a plastic pipe keeps in warm water. The tables are data: models/catalogue/
// temperature_factors.yaml.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/pipes/pipe.h"

namespace runnel::pipes {

/// Between two points the factor is linear in the temperature, or linear in 1/T (absolute).
enum class Between { straight, inverse_absolute };

struct FactorPoint {
  double temperature_c = 0.0;
  double factor = 1.0;
};

struct FactorTable {
  std::string name;
  Between between = Between::straight;
  std::vector<FactorPoint> points;  ///< by rising temperature, at least two; the first factor is 1
  Certainty certainty = Certainty::user;
  std::string source;

  /// 1 up to the first temperature, 0 (no rating) above the last.
  double at(double temperature_c) const;
};

/// The table of that name, or nullptr.
const FactorTable* factor_table(std::string_view name);
std::vector<std::string> factor_table_names();

/// Reads a file of tables.
Checked<std::vector<FactorTable>> read_factor_tables(std::string_view text, const std::string& file);

}  // namespace runnel::pipes
