// A small chart of a level over time.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "runnel/network/floats.h"
#include "runnel/report/fill.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

constexpr int rows = 13, label_width = 12, mark_width = 16;
// Ticks of time: the shortest of these that leaves room for the labels.
constexpr std::array<double, 13> spacings_s = {60.0,     300.0,    900.0,    1800.0,  3600.0,
                                               7200.0,   14400.0,  21600.0,  43200.0, 86400.0,
                                               172800.0, 604800.0, 2592000.0};
constexpr int tick_columns = 12;

// The level at a time, between the rows of the series.
double level_at(const std::vector<filling::Row>& series, double time_s) {
  const auto after = std::lower_bound(series.begin(), series.end(), time_s,
                                      [](const filling::Row& row, double t) { return row.time_s < t; });
  if (after == series.begin()) return series.front().level_m;
  if (after == series.end()) return series.back().level_m;
  const auto before = after - 1;
  const double span = after->time_s - before->time_s;
  const double share = span > 0.0 ? (time_s - before->time_s) / span : 1.0;
  return before->level_m + share * (after->level_m - before->level_m);
}

/// A level and what stands there.
struct LevelMark {
  double level_m = 0.0;
  std::string words;
};

std::vector<LevelMark> marks_of(const network::System& system, const network::Tank& tank) {
  std::vector<LevelMark> marks = {{tank.lip.metres(), "lip"}};
  for (const network::FloatValve& valve : network::floats_of(system.model(), tank)) {
    marks.push_back({valve.shuts_at.metres(), "float shuts"});
    marks.push_back({valve.opens_at.metres(), "opens"});
  }
  const int place = system.find_place(tank.name).value_or(-1);
  if (place < 0) return marks;
  for (const int l : system.lines_at(place)) {
    const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
    if (line.from == place)
      marks.push_back({std::max(line.start_elevation(), tank.floor).metres(), "outlet"});
  }
  return marks;
}

class Chart {
 public:
  Chart(const FillAnswer& answer, const filling::StorageHistory& history, const network::Tank& tank,
        const TextOptions& options)
      : answer_(answer),
        history_(history),
        options_(options),
        columns_(std::clamp(options.width - label_width - mark_width - 4, 20, 72)),
        low_m_(tank.floor.metres()),
        high_m_(tank.lip.metres()),
        picture_(rows, std::string(static_cast<std::size_t>(columns_), ' ')),
        words_(rows) {
    for (const LevelMark& mark : marks_of(answer.system, tank)) {
      std::string& words = words_[static_cast<std::size_t>(row_of(mark.level_m))];
      if (words.find(mark.words) == std::string::npos) words += (words.empty() ? "" : ", ") + mark.words;
    }
  }

  std::string text() {
    for (int c = 0; c < columns_; ++c) draw(c);
    std::string out;
    for (int r = 0; r < rows; ++r) out += row_text(r);
    out += time_axis();
    for (const filling::PlaceHistory& place : answer_.history.places)
      if (place.by_the_hour) out += draw_row(place);
    return out;
  }

 private:
  double duration_s() const { return answer_.history.duration_s; }

  int row_of(double level_m) const {
    const double share = std::clamp((level_m - low_m_) / (high_m_ - low_m_), 0.0, 1.0);
    return static_cast<int>(std::lround((1.0 - share) * (rows - 1)));
  }

  /// From the lowest to the highest that the level is within the column's time: many cycles of a float within
  /// one column are a band.
  void draw(int c) {
    const double width_s = duration_s() / (columns_ - 1), middle_s = width_s * c;
    double low = level_at(history_.series, middle_s), high = low;
    const double from_s = middle_s - 0.5 * width_s, to_s = middle_s + 0.5 * width_s;
    auto row = std::lower_bound(history_.series.begin(), history_.series.end(), from_s,
                                [](const filling::Row& a, double t) { return a.time_s < t; });
    for (; row != history_.series.end() && row->time_s <= to_s; ++row) {
      low = std::min(low, row->level_m);
      high = std::max(high, row->level_m);
    }
    for (int r = row_of(high); r <= row_of(low); ++r)
      picture_[static_cast<std::size_t>(r)][static_cast<std::size_t>(c)] = '*';
  }

  std::string row_text(int r) const {
    const double level = high_m_ - (high_m_ - low_m_) * r / (rows - 1);
    const std::string label = r % 4 == 0 ? shown(Kind::elevation, level, options_) : "";
    const std::string& words = words_[static_cast<std::size_t>(r)];
    std::string line = fmt::format("  {:>{}} {}{}", label, label_width, label.empty() ? '|' : '+',
                                   picture_[static_cast<std::size_t>(r)]);
    if (!words.empty()) line += "< " + words;
    line.erase(line.find_last_not_of(' ') + 1);
    return line + "\n";
  }

  /// When water is taken at a tap or a joint. What is drawn holds from one row of the series to the next.
  std::string draw_row(const filling::PlaceHistory& place) const {
    std::string row(static_cast<std::size_t>(columns_), '.');
    for (int c = 0; c < columns_; ++c) {
      const double time_s = duration_s() / (columns_ - 1) * c;
      const auto after =
          std::upper_bound(place.series.begin(), place.series.end(), time_s,
                           [](double t, const filling::PlaceRow& one) { return t < one.time_s; });
      const bool runs = after != place.series.begin() && (after - 1)->flow_m3s > 0.0;
      if (runs) row[static_cast<std::size_t>(c)] = '#';
    }
    return fmt::format("  {:>{}}  {}< {}\n", "drawn", label_width, row, short_name(place.name));
  }

  std::string time_axis() const {
    std::string axis(static_cast<std::size_t>(columns_), '-'),
        labels(static_cast<std::size_t>(columns_), ' ');
    const double per_column_s = duration_s() / (columns_ - 1);
    double spacing_s = spacings_s.back();
    for (auto it = spacings_s.rbegin(); it != spacings_s.rend(); ++it)
      if (*it / per_column_s >= tick_columns) spacing_s = *it;
    while (spacing_s / per_column_s < tick_columns) spacing_s *= 2.0;
    for (int n = 0; n * spacing_s <= duration_s() * (1.0 + 1e-9); ++n) {
      const auto c = static_cast<std::size_t>(std::lround(n * spacing_s / per_column_s));
      if (c >= axis.size()) break;
      axis[c] = '+';
      const std::string label = n == 0 ? "0" : shown(Kind::duration, n * spacing_s, options_);
      const std::size_t from = c >= label.size() / 2 ? c - label.size() / 2 : 0;
      if (from + label.size() <= labels.size()) labels.replace(from, label.size(), label);
    }
    labels.erase(labels.find_last_not_of(' ') + 1);
    return fmt::format("  {:>{}} +{}\n  {:>{}}  {}\n", "", label_width, axis, "", label_width, labels);
  }

  const FillAnswer& answer_;
  const filling::StorageHistory& history_;
  const TextOptions& options_;
  int columns_;
  double low_m_, high_m_;
  std::vector<std::string> picture_, words_;  ///< one a row
};

}  // namespace

std::string level_chart(const FillAnswer& answer, const filling::StorageHistory& tank,
                        const TextOptions& options) {
  const network::Tank* about = answer.system.tank(tank.name);
  if (!about || tank.series.size() < 2 || answer.history.duration_s <= 0.0) return {};
  return Chart(answer, tank, *about, options).text();
}

}  // namespace runnel::report
