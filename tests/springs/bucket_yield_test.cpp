#include "runnel/springs/bucket_yield.h"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <vector>

using namespace runnel;
using namespace runnel::springs;

namespace {

std::vector<Duration> seconds(std::initializer_list<double> values) {
  std::vector<Duration> times;
  for (const double value : values) times.push_back(Duration::seconds(value));
  return times;
}

}  // namespace

TEST_CASE("the yield is the volume over the mean time") {
  const BucketYield yield = bucket_yield(Volume::litres(20), seconds({38, 42, 40}));
  CHECK(yield.mean.litres_per_second() == Approx(0.5).epsilon(1e-14));
  CHECK(yield.per_day.litres() == Approx(43200).epsilon(1e-14));
  CHECK(yield.tests == 3);
  REQUIRE(yield.interval);
  // s = 2, t(0.975, 2) = 4.302653 from memory of the printed table: 40 -+ 4.96827 s.
  CHECK(yield.interval->low.litres_per_second() == Approx(20.0 / 44.96827).epsilon(1e-6));
  REQUIRE(yield.interval->high);
  CHECK(yield.interval->high->litres_per_second() == Approx(20.0 / 35.03173).epsilon(1e-6));
}

TEST_CASE("the published interval of times is that of the yield turned over") {
  const BucketYield yield = bucket_yield(Volume::litres(10), seconds({5, 8, 4, 6, 10, 3}), 0.95);
  CHECK(yield.mean.litres_per_second() == Approx(10.0 / 6.0).epsilon(1e-14));
  REQUIRE(yield.interval);
  CHECK(yield.interval->low.litres_per_second() == Approx(10.0 / 8.736593339).epsilon(2e-10));
  CHECK(yield.interval->high->litres_per_second() == Approx(10.0 / 3.263406661).epsilon(2e-10));
}

TEST_CASE("a single bucket test has no interval") {
  const BucketYield yield = bucket_yield(Volume::gallons(5), seconds({60}));
  CHECK(yield.mean.gallons_per_minute() == Approx(5.0).epsilon(1e-14));
  CHECK_FALSE(yield.interval);
  CHECK_FALSE(yield.outlying);
}

TEST_CASE("two wild times set no upper bound") {
  const BucketYield yield = bucket_yield(Volume::litres(10), seconds({10, 40}));
  REQUIRE(yield.interval);
  CHECK_FALSE(yield.interval->high);
  CHECK(yield.interval->low < yield.mean);
}

TEST_CASE("a time that does not belong is pointed out") {
  const BucketYield yield = bucket_yield(Volume::litres(20), seconds({40.1, 39.7, 58.0, 40.4, 39.9}));
  REQUIRE(yield.outlying);
  CHECK(yield.outlying->index == 2);
}

TEST_CASE("bucket tests without water or time are refused") {
  CHECK_THROWS_AS(bucket_yield(Volume::litres(0), seconds({40})), std::invalid_argument);
  CHECK_THROWS_AS(bucket_yield(Volume::litres(20), {}), std::invalid_argument);
  CHECK_THROWS_AS(bucket_yield(Volume::litres(20), seconds({40, 0})), std::invalid_argument);
}
