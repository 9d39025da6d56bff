#include "runnel/springs/dry_year.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <stdexcept>
#include <vector>

using namespace runnel;
using namespace runnel::springs;

namespace {

/// `count` yields whose logarithms have exactly the given mean and deviation.
std::vector<Flow> years_with(int count, double log_mean, double log_deviation) {
  std::vector<double> raw;
  for (int i = 0; i < count; ++i) raw.push_back(i * i + 0.5 * i);
  const Mean mean = mean_of(raw);
  std::vector<Flow> flows;
  for (const double value : raw)
    flows.push_back(
        Flow::from_si(std::exp(log_mean + log_deviation * (value - mean.value) / mean.deviation)));
  return flows;
}

}  // namespace

TEST_CASE("the interval of a chance meets the published tolerance factors") {
  // One-sided tolerance factors k of the normal distribution: with confidence 0.95 a share P lies above
  // mean - k s. So a need at mean - k s has an upper bound of 1 - P at 95 % one-sided, 90 % two-sided.
  // [natrella1963], table A-7, three decimals; from memory. The slope of P in k sets the margin.
  const struct {
    int count;
    double share, k;
  } rows[] = {{5, 0.95, 4.203}, {10, 0.90, 2.355}, {10, 0.95, 2.911}, {10, 0.99, 3.981}, {20, 0.95, 2.396}};
  for (const auto& row : rows) {
    CAPTURE(row.count, row.share);
    const auto found =
        dry_year(years_with(row.count, -7.0, 0.3), Flow::from_si(std::exp(-7.0 - row.k * 0.3)), 0.90);
    REQUIRE(found);
    CHECK(found->method == DryYearMethod::lognormal_years);
    CHECK(found->interval.high == Approx(1.0 - row.share).margin(6e-5));
    CHECK(found->interval.low < found->chance);
    CHECK(found->chance < found->interval.high);
  }
}

TEST_CASE("the interval of a dry year's chance holds the truth as often as it says") {
  // True chance Phi(-1); 1000 draws of six years, 80 %: standard error 1.3 %, four of them 5 %.
  const double truth = 0.15865525393145707;
  std::mt19937 random(5);
  std::normal_distribution<double> scatter(-7.0, 0.4);
  int held = 0;
  double sum = 0.0;
  for (int trial = 0; trial < 1000; ++trial) {
    std::vector<Flow> years;
    for (int i = 0; i < 6; ++i) years.push_back(Flow::from_si(std::exp(scatter(random))));
    const auto found = dry_year(years, Flow::from_si(std::exp(-7.4)), 0.80);
    REQUIRE(found);
    held += found->interval.low < truth && truth < found->interval.high;
    sum += found->chance;
  }
  CHECK(held / 1000.0 == Approx(0.80).margin(0.05));
  CHECK(sum / 1000.0 > truth);  // few years leave more to fear than many would
}

TEST_CASE("next year's yield falls below its bound as often as it says") {
  std::mt19937 random(9);
  std::normal_distribution<double> scatter(-7.0, 0.4);
  int below = 0;
  for (int trial = 0; trial < 4000; ++trial) {
    std::vector<Flow> years;
    for (int i = 0; i < 4; ++i) years.push_back(Flow::from_si(std::exp(scatter(random))));
    below += std::exp(scatter(random)) < yield_of_next_year(years, 0.9)->si();
  }
  CHECK(below / 4000.0 == Approx(0.10).margin(0.019));  // four standard errors
  // The chance at that bound is the risk itself: one formula turned over.
  const std::vector<Flow> years = years_with(7, -6.0, 0.2);
  CHECK(dry_year(years, *yield_of_next_year(years, 0.9))->chance == Approx(0.1).epsilon(1e-9));
  CHECK_FALSE(yield_of_next_year(std::vector{Flow::from_si(1)}));
  CHECK_FALSE(yield_of_next_year(std::vector{Flow::from_si(1), Flow{}}));
}

TEST_CASE("a stated spread makes one year enough") {
  const std::vector<Flow> one = {Flow::litres_per_second(0.4)};
  const auto found = dry_year(one, std::log(2.0), Flow::litres_per_second(0.2), 0.95);
  REQUIRE(found);
  CHECK(found->method == DryYearMethod::lognormal_stated);
  CHECK(found->chance == Approx(0.239750).margin(1e-6));          // Phi(-1/sqrt 2), computed
  CHECK(found->interval.low == Approx(0.00153839).margin(1e-7));  // Phi(-1 - 1.959964), computed
  CHECK(found->interval.high == Approx(0.83147).margin(1e-5));    // Phi(-1 + 1.959964), computed
  CHECK_FALSE(dry_year({}, 0.3, Flow::litres_per_second(0.2)));
  CHECK_THROWS_AS(dry_year(one, 0.0, Flow::litres_per_second(0.2)), std::invalid_argument);
  CHECK(log_spread_of_share(0.0) == 0.0);
  CHECK(log_spread_of_share(1.0) == Approx(std::sqrt(std::log(2.0))).epsilon(1e-14));
}

TEST_CASE("a year that ran dry is counted") {
  // Clopper and Pearson, 95 %, from memory of the tables: 1 of 10 gives 0.0025 to 0.4450.
  std::vector<Flow> years(9, Flow::litres_per_second(0.5));
  years.push_back(Flow{});
  const auto found = dry_year(years, Flow::litres_per_second(0.3));
  REQUIRE(found);
  CHECK(found->method == DryYearMethod::counted_years);
  CHECK(found->chance == Approx(0.1).epsilon(1e-14));
  CHECK(found->interval.low == Approx(0.0025).margin(5e-5));
  CHECK(found->interval.high == Approx(0.4450).margin(5e-5));
  const auto all = dry_year(std::vector{Flow{}, Flow{}}, Flow::litres_per_second(0.3));
  REQUIRE(all);
  CHECK(all->chance == 1.0);
  CHECK(all->interval.high == 1.0);
}

TEST_CASE("one year, or years that do not differ, give no chance") {
  CHECK_FALSE(dry_year(std::vector{Flow::litres_per_second(0.4)}, Flow::litres_per_second(0.2)));
  CHECK_FALSE(dry_year(std::vector<Flow>(5, Flow::litres_per_second(0.4)), Flow::litres_per_second(0.2)));
  CHECK_FALSE(dry_year({}, Flow::litres_per_second(0.2)));
  CHECK_THROWS_AS(dry_year({}, Flow{}), std::invalid_argument);
}

TEST_CASE("a chance is a chance however far the need lies from the years") {
  const std::vector<Flow> years = years_with(4, -7.0, 0.02);
  double before = -1.0;
  for (double need = -9.0; need <= -5.0; need += 0.05) {
    CAPTURE(need);
    const auto found = dry_year(years, Flow::from_si(std::exp(need)));
    REQUIRE(found);
    CHECK(found->chance >= before);
    before = found->chance;
    CHECK(found->interval.low >= 0.0);
    CHECK(found->interval.low <= found->interval.high);
    CHECK(found->interval.high <= 1.0);
  }
}

TEST_CASE("years that hardly differ leave no doubt and take no time") {
  for (const int count : {2, 3, 5, 30}) {
    for (const double spread : {1e-2, 1e-3, 1e-5, 1e-8, 1e-11}) {
      CAPTURE(count, spread);
      const std::vector<Flow> years = years_with(count, -7.0, spread);
      const auto dry = dry_year(years, Flow::from_si(std::exp(-6.0)), 0.9);
      const auto wet = dry_year(years, Flow::from_si(std::exp(-8.0)), 0.9);
      REQUIRE(dry);
      REQUIRE(wet);
      CHECK(dry->chance > 0.99);
      CHECK(dry->interval.low > 0.99);
      CHECK(wet->chance < 0.01);
      CHECK(wet->interval.high < 0.01);
    }
  }
}

TEST_CASE("the far form of the interval joins the near one") {
  // They meet where the need lies 212 deviations off. Two years leave so much doubt that a bound of 99.9 %
  // is still a number there, and it must go on falling across the joint.
  double before = 1.0;
  for (double far = 100.0; far < 1200.0; far *= 1.05) {
    const auto found = dry_year(years_with(2, 0.0, 1e-3), Flow::from_si(std::exp(-1e-3 * far)), 0.999);
    REQUIRE(found);
    CHECK(found->interval.high < before);
    before = found->interval.high;
  }
}
