#include "runnel/springs/bucket_yield.h"

#include <stdexcept>
#include <vector>

namespace runnel::springs {

BucketYield bucket_yield(Volume bucket, std::span<const Duration> times, double confidence) {
  if (!(bucket.si() > 0.0) || times.empty())
    throw std::invalid_argument("a bucket test without water or time");
  std::vector<double> times_s;
  for (const Duration time : times) {
    if (!(time.si() > 0.0)) throw std::invalid_argument("a bucket that fills in no time");
    times_s.push_back(time.seconds());
  }
  const auto flow = [bucket](double time_s) {
    return Flow::cubic_metres_per_second(bucket.cubic_metres() / time_s);
  };
  const Mean time = mean_of(times_s, confidence);
  BucketYield yield;
  yield.tests = time.count;
  yield.mean = flow(time.value);
  yield.per_day = Volume::cubic_metres(yield.mean.si() * Duration::days(1).seconds());
  yield.outlying = outlier_of(times_s);
  if (time.interval) {
    yield.interval = YieldInterval{flow(time.interval->high), std::nullopt};
    if (time.interval->low > 0.0) yield.interval->high = flow(time.interval->low);
  }
  return yield;
}

}  // namespace runnel::springs
