#include "runnel/springs/yield_log.h"

#include <catch2/catch.hpp>
#include <random>
#include <vector>

using namespace runnel;
using namespace runnel::springs;
using namespace std::chrono;

namespace {

LogEntry entry(int day, double litres_a_second) {
  return {sys_days{2020y / January / 1} + days(day), Flow::litres_per_second(litres_a_second)};
}

}  // namespace

TEST_CASE("a log on a straight line gives that line") {
  // 0.1 L/s less every 1461 days (four years): 0.025 L/s a year.
  const std::vector<LogEntry> log = {entry(1461, 0.7), entry(0, 0.8), entry(2922, 0.6), entry(4383, 0.5)};
  const YieldTrend found = yield_trend(log);
  CHECK(found.trend == Trend::falling);
  CHECK(found.days_covered == 4383);
  CHECK_FALSE(found.within_a_year);
  CHECK(found.change_a_year.litres_per_second() == Approx(-0.025).epsilon(1e-12));
  CHECK(found.mean.litres_per_second() == Approx(0.65).epsilon(1e-12));
}

TEST_CASE("a lower yield than last time is no trend") {
  const std::vector<LogEntry> log = {entry(0, 0.50), entry(400, 0.46), entry(800, 0.52), entry(1200, 0.47)};
  const YieldTrend found = yield_trend(log);
  CHECK(found.trend == Trend::not_shown);
  REQUIRE(found.change_low);
  CHECK(found.change_low->si() < 0.0);
  CHECK(found.change_high->si() > 0.0);
}

TEST_CASE("a log that rises says so, and one of a season says that it is one") {
  const std::vector<LogEntry> log = {entry(0, 0.30), entry(30, 0.41), entry(60, 0.50), entry(90, 0.59)};
  const YieldTrend found = yield_trend(log);
  CHECK(found.trend == Trend::rising);
  CHECK(found.within_a_year);
}

TEST_CASE("too few entries show nothing") {
  CHECK(yield_trend({}).trend == Trend::too_few);
  CHECK(yield_trend(std::vector{entry(0, 0.5), entry(500, 0.1)}).trend == Trend::too_few);
  CHECK(yield_trend(std::vector{entry(0, 0.5), entry(0, 0.1), entry(0, 0.3)}).trend == Trend::too_few);
}

TEST_CASE("a steady spring is called falling in one of forty logs") {
  // Two-sided 5 %: half of that on the falling side. 4000 logs, standard error 0.25 %, four of them 1 %.
  std::mt19937 random(3);
  std::normal_distribution<double> scatter(0.5, 0.05);
  int falling = 0;
  for (int trial = 0; trial < 4000; ++trial) {
    std::vector<LogEntry> log;
    for (int i = 0; i < 8; ++i) log.push_back(entry(97 * i + i * i, scatter(random)));
    falling += yield_trend(log).trend == Trend::falling;
  }
  CHECK(falling / 4000.0 == Approx(0.025).margin(0.01));
}
