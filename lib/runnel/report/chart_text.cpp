// A level over time, drawn in characters.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "runnel/report/harmless.h"
#include "runnel/report/render_text.h"

namespace runnel::report {
namespace {

constexpr int label_width = 12, mark_width = 16;
// Spacing of the time ticks: the shortest of these that leaves room for the labels.
constexpr std::array<double, 13> spacings_s = {60.0,     300.0,    900.0,    1800.0,  3600.0,
                                               7200.0,   14400.0,  21600.0,  43200.0, 86400.0,
                                               172800.0, 604800.0, 2592000.0};
constexpr int tick_columns = 12;

// The level at a time, between the points of its course.
double value_at(const std::vector<Chart::Point>& course, double time_s) {
  const auto after = std::lower_bound(course.begin(), course.end(), time_s,
                                      [](const Chart::Point& point, double t) { return point.time_s < t; });
  if (after == course.begin()) return course.front().value;
  if (after == course.end()) return course.back().value;
  const auto before = after - 1;
  const double span = after->time_s - before->time_s;
  const double share = span > 0.0 ? (time_s - before->time_s) / span : 1.0;
  return before->value + share * (after->value - before->value);
}

class Drawing {
 public:
  Drawing(const Chart& chart, const TextOptions& options)
      : chart_(chart),
        options_(options),
        columns_(std::clamp(options.width - label_width - mark_width - 4, 20, 72)),
        picture_(static_cast<std::size_t>(chart.rows), std::string(static_cast<std::size_t>(columns_), ' ')),
        words_(static_cast<std::size_t>(chart.rows)) {
    for (const Chart::Mark& mark : chart.marks) {
      std::string& words = words_[static_cast<std::size_t>(row_of(mark.value))];
      if (words.find(mark.words) == std::string::npos) words += (words.empty() ? "" : ", ") + mark.words;
    }
  }

  std::string text() {
    for (int c = 0; c < columns_; ++c) draw(c);
    std::string out;
    for (int r = 0; r < chart_.rows; ++r) out += row_text(r);
    out += time_axis();
    for (const Chart::Band& band : chart_.bands) out += band_text(band);
    return out;
  }

 private:
  int row_of(double value) const {
    const double share = std::clamp((value - chart_.low) / (chart_.high - chart_.low), 0.0, 1.0);
    return static_cast<int>(std::lround((1.0 - share) * (chart_.rows - 1)));
  }

  /// A bar from the lowest to the highest level within the column's time, so that many cycles of a float
  /// within one column show as a band.
  void draw(int c) {
    const double width_s = chart_.duration_s / (columns_ - 1), middle_s = width_s * c;
    double low = value_at(chart_.course, middle_s), high = low;
    const double from_s = middle_s - 0.5 * width_s, to_s = middle_s + 0.5 * width_s;
    auto row = std::lower_bound(chart_.course.begin(), chart_.course.end(), from_s,
                                [](const Chart::Point& a, double t) { return a.time_s < t; });
    for (; row != chart_.course.end() && row->time_s <= to_s; ++row) {
      low = std::min(low, row->value);
      high = std::max(high, row->value);
    }
    for (int r = row_of(high); r <= row_of(low); ++r)
      picture_[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)] = '*';
  }

  std::string row_text(int r) const {
    const double level = chart_.high - (chart_.high - chart_.low) * r / (chart_.rows - 1);
    const int apart = (chart_.rows - 1) % 4 == 0 ? 4 : 3;
    const std::string label = r % apart == 0 ? units::show({chart_.kind, level}, options_.units) : "";
    const std::string& words = words_[static_cast<std::size_t>(r)];
    std::string line = fmt::format("  {:>{}} {}{}", label, label_width, label.empty() ? '|' : '+',
                                   picture_[static_cast<std::size_t>(r)]);
    if (!words.empty()) line += "< " + words;
    line.erase(line.find_last_not_of(' ') + 1);
    return line + "\n";
  }

  std::string band_text(const Chart::Band& band) const {
    std::string row(static_cast<std::size_t>(columns_), '.');
    for (int c = 0; c < columns_; ++c) {
      const double time_s = chart_.duration_s / (columns_ - 1) * c;
      const auto after = std::upper_bound(band.switches.begin(), band.switches.end(), time_s,
                                          [](double t, const Chart::Switch& one) { return t < one.time_s; });
      if (after != band.switches.begin() && (after - 1)->runs) row[static_cast<std::size_t>(c)] = '#';
    }
    return fmt::format("  {:>{}}  {}< {}\n", band.title, label_width, row, harmless(band.name));
  }

  std::string time_axis() const {
    std::string axis(static_cast<std::size_t>(columns_), '-'),
        labels(static_cast<std::size_t>(columns_), ' ');
    const double per_column_s = chart_.duration_s / (columns_ - 1);
    double spacing_s = spacings_s.back();
    for (auto it = spacings_s.rbegin(); it != spacings_s.rend(); ++it)
      if (*it / per_column_s >= tick_columns) spacing_s = *it;
    while (spacing_s / per_column_s < tick_columns) spacing_s *= 2.0;
    for (int n = 0; n * spacing_s <= chart_.duration_s * (1.0 + 1e-9); ++n) {
      const auto c = static_cast<std::size_t>(std::lround(n * spacing_s / per_column_s));
      if (c >= axis.size()) break;
      axis[c] = '+';
      const std::string label = n == 0 ? "0" : units::show({Kind::duration, n * spacing_s}, options_.units);
      const std::size_t from = c >= label.size() / 2 ? c - label.size() / 2 : 0;
      if (from + label.size() <= labels.size()) labels.replace(from, label.size(), label);
    }
    labels.erase(labels.find_last_not_of(' ') + 1);
    return fmt::format("  {:>{}} +{}\n  {:>{}}  {}\n", "", label_width, axis, "", label_width, labels);
  }

  const Chart& chart_;
  const TextOptions& options_;
  int columns_;
  std::vector<std::string> picture_, words_;  ///< one for each row
};

}  // namespace

std::string chart_text(const Chart& chart, const TextOptions& options) {
  return Drawing(chart, options).text();
}

}  // namespace runnel::report
