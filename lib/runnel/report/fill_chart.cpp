// The course of a level as a chart.
#include <algorithm>

#include "runnel/network/floats.h"
#include "runnel/report/fill.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

std::vector<Chart::Mark> marks_of(const network::System& system, const network::Tank& tank) {
  std::vector<Chart::Mark> marks = {{tank.lip.metres(), "lip"}};
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

/// When water is taken at a tap or a joint. What is drawn holds from one row of the series to the next.
Chart::Band band_of(const filling::PlaceHistory& place) {
  Chart::Band band{"drawn", short_name(place.name), {}};
  for (const filling::PlaceRow& row : place.series) band.switches.push_back({row.time_s, row.flow_m3s > 0.0});
  return band;
}

}  // namespace

std::optional<Chart> level_chart(const FillAnswer& answer, const filling::StorageHistory& history) {
  const network::Tank* tank = answer.system.tank(history.name);
  if (!tank || history.series.size() < 2 || answer.history.duration_s <= 0.0) return std::nullopt;
  Chart chart;
  chart.low = tank->floor.metres();
  chart.high = tank->lip.metres();
  chart.duration_s = answer.history.duration_s;
  for (const filling::Row& row : history.series) chart.course.push_back({row.time_s, row.level_m});
  chart.marks = marks_of(answer.system, *tank);
  for (const filling::PlaceHistory& place : answer.history.places)
    if (place.by_the_hour) chart.bands.push_back(band_of(place));
  return chart;
}

}  // namespace runnel::report
