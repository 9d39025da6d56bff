#include "runnel/review/measure.h"

namespace runnel::review {

Measured exactly(Where where, double si) { return {std::move(where), si, si, si, {}}; }

Measured between(Where where, double low, double si, double high) {
  return {std::move(where), si, low, high, {}};
}

Measured lacking(Where where, std::string missing) {
  return {std::move(where), 0.0, 0.0, 0.0, std::move(missing)};
}

const std::vector<Measure>& measures() {
  static const std::vector<Measure> all = [] {
    std::vector<Measure> out;
    for (auto part :
         {pressure_measures, flow_measures, air_measures, part_measures, spacing_measures, supply_measures,
          trough_measures, ground_measures, works_measures, distance_measures, edition_measures}) {
      const std::vector<Measure> some = part();
      out.insert(out.end(), some.begin(), some.end());
    }
    return out;
  }();
  return all;
}

const Measure* find_measure(std::string_view name) {
  for (const Measure& measure : measures())
    if (measure.name == name) return &measure;
  return nullptr;
}

}  // namespace runnel::review
