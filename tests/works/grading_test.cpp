#include "runnel/works/grading.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace runnel;
using namespace runnel::works;

namespace {

std::optional<GradingCurve> curve(std::initializer_list<std::pair<double, double>> mm_and_percent) {
  std::vector<SievePoint> points;
  for (const auto& [mm, percent] : mm_and_percent) points.push_back({Length::millimetres(mm), percent});
  return GradingCurve::from_sieves(points);
}

}  // namespace

TEST_CASE("sizes are read between sieves on a logarithmic scale") {
  const auto sand = curve({{0.1, 0}, {10, 100}, {1, 50}});  // in any order
  REQUIRE(sand);
  CHECK(sand->size_at(50)->millimetres() == Approx(1.0).epsilon(1e-14));
  CHECK(sand->size_at(25)->millimetres() == Approx(std::sqrt(0.1)).epsilon(1e-13));
  CHECK(sand->size_at(85)->millimetres() == Approx(std::pow(10.0, 0.7)).epsilon(1e-13));
  CHECK(*sand->finer_than(Length::millimetres(std::sqrt(0.1))) == Approx(25.0).epsilon(1e-13));
  // Straight in the logarithm over two decades: Cu = 10^(2 * 0.5), Cc = 10^(2 * (0.6 - 0.7)) with the shares
  // 10, 30, 60 % at 0.2, 0.6 and 1.2 decades.
  CHECK(*sand->uniformity() == Approx(10.0).epsilon(1e-13));
  CHECK(*sand->curvature() == Approx(std::pow(10.0, -0.2)).epsilon(1e-13));
}

TEST_CASE("a curve does not tell what lies beyond its ends") {
  const auto open = curve({{0.2, 15}, {1, 50}, {2, 85}});
  REQUIRE(open);
  CHECK_FALSE(open->size_at(10));
  CHECK_FALSE(open->size_at(90));
  CHECK_FALSE(open->finer_than(sieve_no_200));
  CHECK_FALSE(open->finer_than(sieve_no_4));
  CHECK_FALSE(open->uniformity());
  CHECK_FALSE(open->passing(sieve_no_4));
  const auto closed = curve({{0.2, 0}, {2, 100}});
  CHECK(*closed->finer_than(sieve_no_200) == 0.0);
  CHECK(*closed->finer_than(sieve_no_4) == 100.0);
}

TEST_CASE("soil with gravel is regraded on the sieve") {
  const auto gravelly = curve({{0.075, 10}, {1, 30}, {4.75, 50}, {75, 100}});
  REQUIRE(gravelly);
  const auto regraded = gravelly->passing(sieve_no_4);
  REQUIRE(regraded);
  CHECK(*regraded->finer_than(sieve_no_200) == Approx(20.0).epsilon(1e-14));
  CHECK(*regraded->finer_than(Length::millimetres(1)) == Approx(60.0).epsilon(1e-14));
  CHECK(regraded->size_at(100)->millimetres() == Approx(4.75));
  // Without gravel nothing changes; what the sieve holds back altogether has no passing part.
  const auto fine = curve({{0.01, 20}, {0.5, 100}});
  CHECK(fine->passing(sieve_no_4)->size_at(85)->si() == Approx(fine->size_at(85)->si()).epsilon(1e-14));
  CHECK_FALSE(curve({{5, 0}, {20, 100}})->passing(sieve_no_4));
}

TEST_CASE("sieves that cannot be are refused") {
  CHECK_FALSE(curve({{1, 50}}));
  CHECK_FALSE(curve({{1, 50}, {1, 60}}));
  CHECK_FALSE(curve({{1, 50}, {2, 40}}));
  CHECK_FALSE(curve({{1, 50}, {2, 101}}));
  CHECK_FALSE(curve({{0, 0}, {2, 100}}));
  CHECK_FALSE(curve({{1, std::nan("")}, {2, 100}}));
}
