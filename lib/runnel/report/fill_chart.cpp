// A small chart of a level over time.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "runnel/report/fill.h"
#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

constexpr int rows = 9, label_width = 12;

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

}  // namespace

std::string level_chart(const FillAnswer& answer, const filling::StorageHistory& tank,
                        const TextOptions& options) {
  const network::Tank* about = answer.system.tank(tank.name);
  if (!about || tank.series.size() < 2 || answer.history.duration_s <= 0.0) return {};
  const int columns = std::clamp(options.width - label_width - 6, 20, 72);
  const double low = about->floor.metres(), high = about->lip.metres();
  std::vector<std::string> picture(rows, std::string(static_cast<std::size_t>(columns), ' '));
  for (int c = 0; c < columns; ++c) {
    const double t = answer.history.duration_s * c / (columns - 1);
    const double share = std::clamp((level_at(tank.series, t) - low) / (high - low), 0.0, 1.0);
    const int row = static_cast<int>(std::lround((1.0 - share) * (rows - 1)));
    picture[static_cast<std::size_t>(row)][static_cast<std::size_t>(c)] = '*';
  }
  std::string out;
  for (int r = 0; r < rows; ++r) {
    const double level = high - (high - low) * r / (rows - 1);
    const std::string label = r % 4 == 0 ? shown(Kind::elevation, level, options) : "";
    std::string line = fmt::format("  {:>{}} |{}", label, label_width, picture[static_cast<std::size_t>(r)]);
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
  const std::string end = shown(Kind::duration, answer.history.duration_s, options);
  out += fmt::format("  {:>{}} +{}\n", "", label_width, std::string(static_cast<std::size_t>(columns), '-'));
  out += fmt::format("  {:>{}}  0{:>{}}\n", "", label_width, end, columns - 1);
  return out;
}

}  // namespace runnel::report
