#include "runnel/sizing/unknown_ranges.h"

#include <algorithm>

namespace runnel::sizing {

YieldSpread::YieldSpread(const network::Box& box) : written_m3s(box.yield.si()) {
  const auto& tests = *box.bucket_tests;
  double sum = 0.0, squares = 0.0;
  for (const Duration& time : tests.times) sum += tests.volume.si() / time.si();
  const auto n = static_cast<double>(tests.times.size());
  for (const Duration& time : tests.times) squares += std::pow(tests.volume.si() / time.si() - sum / n, 2);
  deviation_m3s = std::sqrt(squares / (n - 1.0) / n);
  degrees = static_cast<int>(n) - 1;
}

double YieldSpread::drawn_m3s(Draws draws) const {
  return std::max(0.0, written_m3s + deviation_m3s * draws.student(degrees));
}

double survey_deviation_m(const network::Pipeline& line) {
  return line.survey_error ? 0.5 * line.survey_error->metres() : 0.0;
}

}  // namespace runnel::sizing
