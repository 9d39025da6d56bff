#pragma once
// What a spring gives, from a bucket and a watch. The same bucket is filled several times; what scatters is
// the time, so it is the time that is averaged, and the yield is the volume over the mean time. (The mean
// of the single flows would favour the short times.) The interval says how well the yield of that day is
// known. It says nothing about other days, let alone other years.
#include <optional>
#include <span>

#include "runnel/springs/sample.h"
#include "runnel/units/quantity.h"

namespace runnel::springs {

struct YieldInterval {
  Flow low;
  std::optional<Flow> high;  ///< none: so few and so scattered times set no upper bound
};

struct BucketYield {
  Flow mean;
  Volume per_day;
  std::optional<YieldInterval> interval;  ///< none for a single test
  std::optional<Outlier> outlying;        ///< the time that does not belong, if any
  std::size_t tests = 0;
};

/// Fewer tests than this are too few for a figure to build on: "three at least", common practice.
inline constexpr std::size_t least_tests = 3;

/// Yield from the times in which one bucket was filled. Precondition: a volume above zero, one time at
/// least, every time above zero; throws std::invalid_argument otherwise.
BucketYield bucket_yield(Volume bucket, std::span<const Duration> times,
                         double confidence = usual_confidence);

}  // namespace runnel::springs
