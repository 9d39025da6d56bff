#include "quick_course.h"

#include <algorithm>
#include <cmath>

namespace cli {
namespace {

namespace units = runnel::units;

// The outlet lies this far below the water, or a tenth of the drop if that is less: deep enough not to draw
// air, and nothing against the survey. Our own choice.
constexpr double usual_cover_m = 0.3;

double cover_m(const QuickWords& words, WordReader& reader, double drop_m) {
  if (words.cover.empty()) return std::min(usual_cover_m, drop_m / 10.0);
  return reader.positive("--cover", words.cover, units::Dimension::length);
}

struct Named {
  TapePoint point;
  std::string option, text;
};

/// `5ft@300ft`: 5 ft below the water, 300 ft down the pipe.
std::vector<Named> points_of(const QuickWords& words, WordReader& reader, double water_m) {
  std::vector<Named> all;
  for (const std::string& text : words.points) {
    const auto at = text.find('@');
    if (at == std::string::npos) {
      reader.wrong("--point", text, "needs a depth and a length with @ between",
                   "write for example 5ft@300ft");
      continue;
    }
    const double depth = reader.value("--point", text.substr(0, at), units::Dimension::length);
    const double along = reader.value("--point", text.substr(at + 1), units::Dimension::length);
    all.push_back({{along, water_m - depth}, "--point", text});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Named& a, const Named& b) { return a.point.along_m < b.point.along_m; });
  return all;
}

/// Appends what can be reached with that much pipe; false otherwise.
bool append(QuickCourse& course, const Named& next, WordReader& reader) {
  const double run = next.point.along_m - course.points.back().along_m;
  const double rise = next.point.elevation_m - course.points.back().elevation_m;
  if (run >= std::abs(rise) && run > 0.0) {
    course.points.push_back(next.point);
    return true;
  }
  reader.wrong(next.option, next.text, "the pipe is too short to reach that far up or down",
               "lengths are measured along the pipe, from the box");
  return false;
}

QuickCourse by_points(const QuickWords& words, WordReader& reader) {
  const double drop_m = reader.positive("--drop", words.drop, units::Dimension::length);
  const double length_m = reader.positive("--length", words.length, units::Dimension::length);
  QuickCourse course{drop_m, {{0.0, drop_m - cover_m(words, reader, drop_m)}}};
  std::vector<Named> all = points_of(words, reader, drop_m);
  all.push_back({{length_m, 0.0}, "--length", words.length});
  for (const Named& next : all)
    if (!reader.sound() || !append(course, next, reader)) break;
  return course;
}

/// `150ft,-12ft`: 150 ft of pipe that falls by 12 ft.
QuickCourse by_legs(const QuickWords& words, WordReader& reader) {
  std::vector<Named> all;
  double along_m = 0.0, rise_m = 0.0;
  for (const std::string& text : words.legs) {
    const auto comma = text.find(',');
    if (comma == std::string::npos) {
      reader.wrong("--leg", text, "needs a length and a rise with a comma between",
                   "write for example 150ft,-12ft for a leg that falls by 12 ft");
      continue;
    }
    along_m += reader.positive("--leg", text.substr(0, comma), units::Dimension::length);
    rise_m += reader.value("--leg", text.substr(comma + 1), units::Dimension::length);
    all.push_back({{along_m, rise_m}, "--leg", text});
  }
  if (!reader.sound()) return {};
  if (!(rise_m < 0.0)) {
    reader.wrong("--leg", words.legs.back(), "the legs together do not fall",
                 "a leg that falls has a rise below zero: 150ft,-12ft");
    return {};
  }
  const double top_m = -rise_m;
  QuickCourse course{top_m, {{0.0, top_m}}};
  course.water_m = top_m + cover_m(words, reader, top_m);
  for (Named& next : all) {
    next.point.elevation_m += top_m;
    if (&next == &all.back()) next.point.elevation_m = 0.0;  // not what rounding of the sum leaves
    if (!append(course, next, reader)) break;
  }
  return course;
}

}  // namespace

double QuickCourse::elevation_at(double along_m) const {
  for (std::size_t i = 1; i < points.size(); ++i) {
    const TapePoint &a = points[i - 1], &b = points[i];
    if (along_m > b.along_m) continue;
    return a.elevation_m + (along_m - a.along_m) / (b.along_m - a.along_m) * (b.elevation_m - a.elevation_m);
  }
  return points.back().elevation_m;
}

QuickCourse quick_course(const QuickWords& words, WordReader& reader) {
  const bool straight = !words.drop.empty() || !words.length.empty() || !words.points.empty();
  if (!words.legs.empty() && straight)
    reader.wrong("--leg", words.legs.front(), "the legs already say the drop, the length and the points",
                 "leave out --drop, --length and --point, or the legs");
  else if (words.legs.empty() && (words.drop.empty() || words.length.empty()))
    reader.wrong(words.drop.empty() ? "--drop" : "--length", "", "is needed",
                 "write --drop 38ft --length 700ft, or legs: --leg 150ft,-12ft --leg 80ft,3ft");
  if (!reader.sound()) return {};
  return words.legs.empty() ? by_points(words, reader) : by_legs(words, reader);
}

}  // namespace cli
