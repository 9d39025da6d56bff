#include "runnel/springs/line_fit.h"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <vector>

using namespace runnel::springs;

TEST_CASE("a line fit meets the certified values of a reference data set") {
  // NIST Statistical Reference Datasets, linear regression, "Norris" [nist-strd]; from memory. The data
  // and the certified values were recalled apart from each other, and they agree to ten digits.
  const std::vector<double> y = {0.1,   338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1,
                                 778.9, 559.2, 0.3,   0.1,   778.1, 668.8, 339.3, 448.9, 10.8,
                                 557.7, 228.3, 998.0, 888.8, 119.6, 0.3,   0.6,   557.6, 339.3,
                                 888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};
  const std::vector<double> x = {0.2,   337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6,
                                 777.0, 558.2, 0.4,   0.6,   775.5, 666.9, 338.0, 447.5, 11.6,
                                 556.0, 228.1, 995.8, 887.6, 120.2, 0.3,   0.3,   556.8, 339.1,
                                 887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5};
  const auto fit = fit_line(x, y);
  REQUIRE(fit);
  CHECK(fit->slope == Approx(1.00211681802045).epsilon(1e-10));
  CHECK(fit->at(0.0) == Approx(-0.262323073774029).epsilon(1e-8));
  CHECK(fit->slope_error == Approx(0.429796848199937e-3).epsilon(1e-8));
  CHECK(fit->residual_deviation == Approx(0.884796396144373).epsilon(1e-8));
}

TEST_CASE("a line fit knows when it knows nothing") {
  const double x2[] = {1.0, 3.0}, y2[] = {2.0, 8.0}, same[] = {5.0, 5.0};
  const auto two = fit_line(x2, y2);
  REQUIRE(two);
  CHECK(two->slope == Approx(3.0).epsilon(1e-14));
  CHECK_FALSE(two->slope_interval);
  CHECK_FALSE(fit_line(same, y2));
  CHECK_FALSE(fit_line({}, {}));
  CHECK_THROWS_AS(fit_line(x2, std::span<const double>{}), std::invalid_argument);
}
