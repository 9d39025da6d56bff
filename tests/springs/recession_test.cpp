#include "runnel/springs/recession.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <vector>

using namespace runnel;
using namespace runnel::springs;
using namespace std::chrono;

namespace {

LogEntry entry(int day, double flow_m3s) {
  return {sys_days{2021y / June / 1} + days(day), Flow::cubic_metres_per_second(flow_m3s)};
}

}  // namespace

TEST_CASE("a recession meets a published exercise") {
  // An answered exercise on the web (a river): 4790 falls to 1631 in 59 days; printed alpha 0.01825 a day,
  // K 0.9819, after 97 days 815.69. It rounded alpha to 0.01825; unrounded alpha is 0.0182600 and the last
  // figure 814.90, both computed.
  const auto fitted = fit_recession(std::vector{entry(0, 4790.0), entry(59, 1631.0)});
  REQUIRE(fitted);
  CHECK(fitted->recession.per_day == Approx(0.01825).margin(1.1e-5));
  CHECK(fitted->recession.per_day == Approx(0.0182600).margin(5e-8));
  CHECK(std::exp(-fitted->recession.per_day) == Approx(0.9819).margin(5e-5));
  CHECK(fitted->recession.after(Duration::days(97)).si() == Approx(814.90).margin(0.005));
  CHECK(Recession{Flow::from_si(4790.0), 0.01825}.after(Duration::days(97)).si() ==
        Approx(815.69).margin(0.01));
  CHECK_FALSE(fitted->per_day);
  CHECK_FALSE(fitted->falls);
}

TEST_CASE("half-lives and alphas in print agree") {
  // Small springs on a tropical island: half-life about a month; alpha 0.0231 a day is computed.
  const Recession month = recession_from_half_life(Flow::litres_per_second(1), Duration::days(30));
  CHECK(month.per_day == Approx(0.0231).margin(5e-5));
  CHECK(month.halves_in()->days() == Approx(30.0).epsilon(1e-14));
  // A mountain spring, two exponentials of 0.0206 and 0.0016 a day: shares left after 90 days, computed.
  CHECK(Recession{Flow::from_si(1), 0.0206}.after(Duration::days(90)).si() == Approx(0.157).margin(5e-4));
  CHECK(Recession{Flow::from_si(1), 0.0016}.after(Duration::days(90)).si() == Approx(0.866).margin(5e-4));
  CHECK_THROWS_AS(recession_from_half_life(Flow{}, Duration{}), std::invalid_argument);
}

TEST_CASE("a recession tells when it has come down to a need") {
  const Recession falling = recession_from_half_life(Flow::litres_per_second(0.8), Duration::days(40));
  CHECK(falling.until(Flow::litres_per_second(0.1))->days() == Approx(120.0).epsilon(1e-13));
  CHECK(falling.until(Flow::litres_per_second(0.9))->days() == 0.0);
  CHECK_FALSE(falling.until(Flow{}));
  const Recession steady{Flow::litres_per_second(0.8), 0.0};
  CHECK_FALSE(steady.until(Flow::litres_per_second(0.1)));
  CHECK_FALSE(steady.halves_in());
  CHECK_FALSE(steady.left_in_the_ground());
  // What is left is the integral of the yield: a thousand half-lives of daily steps, midpoint rule. Its
  // error is (alpha h)^2/24, 1.3e-5 here.
  double sum_m3 = 0.0;
  for (int day = 0; day < 4000; ++day) sum_m3 += falling.after(Duration::days(day + 0.5)).si() * 86400;
  CHECK(falling.left_in_the_ground()->si() == Approx(sum_m3).epsilon(2e-5));
}

TEST_CASE("a fitted recession falls only when its interval does") {
  std::vector<LogEntry> log;
  for (int i = 0; i < 6; ++i)
    log.push_back(entry(20 * i, 1e-3 * std::exp(-0.01 * 20 * i) * (i % 2 == 0 ? 1.02 : 0.98)));
  const auto fitted = fit_recession(log);
  REQUIRE(fitted);
  REQUIRE(fitted->per_day);
  CHECK(fitted->falls);
  CHECK(fitted->per_day->low < 0.01);
  CHECK(fitted->per_day->high > 0.01);
  log.push_back(entry(140, 0.0));
  CHECK_FALSE(fit_recession(log));
  const auto uneven = fit_recession(std::vector{entry(0, 1.0), entry(20, 0.4), entry(40, 0.9)});
  REQUIRE(uneven);
  CHECK_FALSE(uneven->falls);
  CHECK_FALSE(fit_recession({}));
}
