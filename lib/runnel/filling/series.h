#pragma once
// A series of rows by time, read between its rows.
#include <algorithm>
#include <vector>

namespace runnel::filling {

/// A value of the rows at a given time, interpolated between them; that of the first or last row outside
/// them, and 0 without rows. Rows stand in the order of `time_s`.
template <class Row, class Value>
double value_at(const std::vector<Row>& series, double time_s, Value value) {
  if (series.empty()) return 0.0;
  const auto b = std::lower_bound(series.begin(), series.end(), time_s,
                                  [](const Row& row, double t) { return row.time_s < t; });
  if (b == series.end()) return value(series.back());
  if (b == series.begin()) return value(series.front());
  const Row& a = *(b - 1);
  const double share = (time_s - a.time_s) / (b->time_s - a.time_s);
  return value(a) + share * (value(*b) - value(a));
}

}  // namespace runnel::filling
