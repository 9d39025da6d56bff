#include "runnel/springs/sample.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <stdexcept>
#include <vector>

using namespace runnel::springs;

TEST_CASE("the interval of a mean meets two published examples") {
  // A statistics text on the web: 95 %, ten digits in print.
  const double six[] = {5, 8, 4, 6, 10, 3};
  const Mean mean = mean_of(six, 0.95);
  CHECK(mean.count == 6);
  CHECK(mean.value == Approx(6.0).epsilon(1e-14));
  CHECK(mean.deviation == Approx(2.607680962).epsilon(2e-10));
  CHECK(student_quantile(0.975, 5.0) == Approx(2.570581836).epsilon(2e-10));
  REQUIRE(mean.interval);
  CHECK(mean.interval->low == Approx(3.263406661).epsilon(2e-10));
  CHECK(mean.interval->high == Approx(8.736593339).epsilon(2e-10));

  // A second one, 90 %, printed to one decimal: 111.2, s 10.6, 101.1 to 121.3. Its ends were worked out from
  // the rounded s; unrounded they are 101.094 and 121.226, so the tolerance is the last digit in print.
  const double five[] = {115.0, 97.5, 113.2, 104.8, 125.3};
  const Mean second = mean_of(five, 0.90);
  CHECK(second.value == Approx(111.2).margin(0.05));
  CHECK(second.deviation == Approx(10.6).margin(0.05));
  REQUIRE(second.interval);
  CHECK(second.interval->low == Approx(101.1).margin(0.1));
  CHECK(second.interval->high == Approx(121.3).margin(0.1));
  CHECK(second.interval->low == Approx(101.094).margin(5e-4));   // computed
  CHECK(second.interval->high == Approx(121.226).margin(5e-4));  // computed
}

TEST_CASE("one number has a mean and no interval") {
  const double one[] = {4.2};
  const Mean mean = mean_of(one);
  CHECK(mean.value == 4.2);
  CHECK(mean.deviation == 0.0);
  CHECK_FALSE(mean.interval);
  CHECK_THROWS_AS(mean_of({}), std::invalid_argument);
  CHECK_THROWS_AS(mean_of(one, 1.0), std::invalid_argument);
}

TEST_CASE("an interval holds the truth as often as it says") {
  // 4000 samples of five: the share within has a standard error of 0.5 %, and 2 % is four of them.
  std::mt19937 random(7);
  std::normal_distribution<double> scatter(20.0, 3.0);
  int held = 0;
  for (int trial = 0; trial < 4000; ++trial) {
    std::vector<double> numbers(5);
    for (double& number : numbers) number = scatter(random);
    const Mean mean = mean_of(numbers, 0.90);
    held += mean.interval->low < 20.0 && 20.0 < mean.interval->high;
  }
  CHECK(held / 4000.0 == Approx(0.90).margin(0.02));
}

TEST_CASE("the limits of Grubbs' test are those of his tables") {
  // Two-sided 5 %, three decimals: from memory of the printed table [grubbs1969]; margin is the last digit.
  const struct {
    std::size_t count;
    double limit;
  } rows[] = {{3, 1.154}, {4, 1.481}, {5, 1.715}, {6, 1.887},
              {7, 2.020}, {8, 2.127}, {9, 2.215}, {10, 2.290}};
  for (const auto& row : rows) {
    CAPTURE(row.count);
    CHECK(grubbs_limit(row.count) == Approx(row.limit).margin(6e-4));
  }
}

TEST_CASE("Grubbs' test points at the one number that does not belong") {
  // NIST/SEMATECH e-Handbook, 1.3.5.17: G = 2.4688 for the last of eight; from memory.
  const double masses[] = {199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57};
  const auto found = outlier_of(masses);
  REQUIRE(found);
  CHECK(found->index == 7);
  CHECK(found->distance == Approx(2.4688).margin(1e-4));
  CHECK(found->limit < found->distance);
  CHECK_FALSE(outlier_of(std::vector<double>{20.1, 19.8, 20.3, 20.0}));
  CHECK_FALSE(outlier_of(std::vector<double>{20.0, 90.0}));
  CHECK_FALSE(outlier_of(std::vector<double>{0.1, 0.1, 0.1, 0.1}));
}

TEST_CASE("Grubbs' test cries in one of twenty sound samples") {
  // 4000 samples: the standard error of a share of 5 % is 0.35 %, and 1.4 % is four of them.
  std::mt19937 random(11);
  std::normal_distribution<double> scatter(30.0, 2.0);
  int cried = 0;
  for (int trial = 0; trial < 4000; ++trial) {
    std::vector<double> numbers(6);
    for (double& number : numbers) number = scatter(random);
    cried += outlier_of(numbers).has_value();
  }
  CHECK(cried / 4000.0 == Approx(0.05).margin(0.014));
}
