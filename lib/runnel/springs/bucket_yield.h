#pragma once
// What a spring gives, from a bucket and a watch. The same bucket is filled several times. The times scatter,
// so they are averaged, and the yield is the volume over the mean time. (The mean of the single flows would
// favour short times.) The interval says how well the yield of that day is known. It says nothing about other
// days, let alone other years.
#include <optional>
#include <span>

#include "runnel/springs/sample.h"
#include "runnel/units/quantity.h"

namespace runnel::springs {

struct YieldInterval {
  Flow low;
  std::optional<Flow> high;  ///< none if the times are too few or scatter too much to set an upper bound
};

struct BucketYield {
  Flow mean;
  Volume per_day;
  std::optional<YieldInterval> interval;  ///< none for a single test
  std::optional<Outlier> outlying;        ///< a time that does not fit the others, if any
  std::size_t tests = 0;
};

/// Fewer tests than this are too few for a figure to build on: "three at least", common practice.
inline constexpr std::size_t least_tests = 3;

/// How far the mean of fewer tests than that may be off, either way, as a share of it: too little says how
/// their times scatter. Common practice, no source.
inline constexpr double few_tests_off = 0.1;

/// How closely somebody reads on a watch when a bucket is full [s], however often; common practice, no
/// source.
inline constexpr double read_within_s = 0.5;

/// Yield from the times that one bucket took to fill. Precondition: a volume above zero, at least one time,
/// every time above zero; throws std::invalid_argument otherwise.
BucketYield bucket_yield(Volume bucket, std::span<const Duration> times,
                         double confidence = usual_confidence);

}  // namespace runnel::springs
