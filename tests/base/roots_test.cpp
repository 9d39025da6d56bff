#include "runnel/base/roots.h"

#include <catch2/catch.hpp>
#include <cmath>

using runnel::bracketed_root;

TEST_CASE("bracketed root to the last bits") {
  // 4e-16 is two units in the last place.
  CHECK(bracketed_root([](double x) { return x * x - 2; }, 0, 2) == Approx(std::sqrt(2.0)).epsilon(4e-16));
  CHECK(bracketed_root([](double x) { return std::exp(x) - 1e10; }, 0, 700) ==
        Approx(std::log(1e10)).epsilon(4e-16));
  CHECK(bracketed_root([](double x) { return std::pow(x, 9) - 1e-60; }, 0, 1e6) ==
        Approx(std::pow(1e-60, 1.0 / 9)).epsilon(2e-15));
  CHECK(bracketed_root([](double x) { return x < 0.3 ? -1.0 : 1.0; }, 0, 1) == Approx(0.3).epsilon(1e-15));
}

TEST_CASE("bracketed root is sparing and never runs away") {
  int calls = 0;
  const auto count = [&](auto f, double low, double high) {
    calls = 0;
    bracketed_root([&](double x) { return ++calls, f(x); }, low, high);
    return calls;
  };
  CHECK(count([](double x) { return x * x - 2; }, 0.0, 2.0) < 30);
  CHECK(count([](double x) { return std::pow(x, 9) - 1e-60; }, 0.0, 1e6) <= 202);
  CHECK(count([](double x) { return x - x + std::nan(""); }, 0.0, 1.0) <= 202);
}

TEST_CASE("without a change of sign the nearer end comes back") {
  CHECK(bracketed_root([](double x) { return x + 1; }, 0, 5) == 0);
  CHECK(bracketed_root([](double x) { return x - 9; }, 0, 5) == 5);
}
