#include "runnel/sizing/split_layer.h"

#include <algorithm>

#include "runnel/network/course.h"

namespace runnel::sizing {
namespace {

// A shorter piece is not worth a reducer.
constexpr double least_piece_m = 1.0;

/// The station behind which so much of a line's slope length lies.
double station_at(const network::Course& course, double length_m) {
  for (const auto& point : course.points()) {
    if (length_m <= point.length_m || &point == &course.points().back()) {
      const std::size_t next = static_cast<std::size_t>(&point - course.points().data()) + 1;
      if (next >= course.points().size()) return point.station_m;
      return point.station_m +
             (course.points()[next].station_m - point.station_m) * length_m / point.length_m;
    }
    length_m -= point.length_m;
  }
  return course.last_m();
}

}  // namespace

bool SplitLayer::lay(const SharedLine& shared) {
  const auto& open = model_.pipelines[shared.line].choice;
  if (!open) return true;
  network::Pipeline& line = laid_.pipelines[shared.line];
  const network::Course course(line.survey, line.parts, {line.pipes.front()}, line.along);
  double length_m = 0.0, whole = 0.0, behind_m = 0.0;
  for (const auto& point : course.points()) length_m += point.length_m;
  std::vector<SharedLine::Size> used;
  for (const auto& size : shared.sizes)
    if (size.share * length_m >= least_piece_m) used.push_back(size);
  if (used.empty() || static_cast<int>(used.size()) > open->sizes) return false;
  // A line may be surveyed against its flow.
  std::sort(used.begin(), used.end(), [&](const auto& a, const auto& b) {
    return shared.forward ? a.loss_m < b.loss_m : a.loss_m > b.loss_m;
  });
  for (const auto& size : used) whole += size.share;
  line.pipes.clear();
  line.choice.reset();
  for (const auto& size : used) {
    const pipes::Pipe& pipe = open->among[static_cast<std::size_t>(size.size)];
    const double piece_m = size.share / whole * length_m, from_m = station_at(course, behind_m);
    line.pipes.push_back({pipe, Length::metres(from_m), {}, {}});
    pieces_.push_back({line.name, pipe.name, from_m, piece_m, size.cost * size.share / whole});
    behind_m += piece_m;
  }
  return true;
}

}  // namespace runnel::sizing
