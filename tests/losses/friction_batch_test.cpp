// Many pipes at once against the same pipes one by one: the law itself is tested in friction_test.cpp.
#include "runnel/losses/friction_batch.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

using namespace runnel::losses;

namespace {

/// Worst difference of loss and slope from PipeFriction::per_metre, relative, over flows of all regimes.
double worst_difference(const FrictionLaw& law) {
  std::mt19937_64 dice(7);
  const auto real = [&](double low, double high) {
    return low + (high - low) * double(dice() >> 11) * 0x1p-53;
  };
  double worst = 0.0;
  for (std::size_t count : {1u, 7u, 8u, 9u, 3001u}) {
    FrictionBatch batch;
    std::vector<PipeFriction> pipes;
    std::vector<double> lengths_m, flow_m3s;
    for (std::size_t i = 0; i < count; ++i) {
      const double bore_m = real(0.01, 0.3);
      pipes.emplace_back(law, bore_m, i % 5 == 0 ? 0.0 : real(0.0, 0.05) * bore_m, real(60, 160), 1.3e-6);
      lengths_m.push_back(real(0.1, 2000.0));
      const double reynolds = std::exp(real(std::log(1e-3), std::log(1e8)));  // far beyond use on both sides
      const double size = reynolds * 1.3e-6 * 3.14159 / 4.0 * bore_m;
      flow_m3s.push_back(i % 50 == 3 ? 0.0 : i % 2 ? size : -size);
      batch.add(pipes.back(), lengths_m.back());
    }
    REQUIRE(batch.size() == count);
    flow_m3s.resize(batch.padded_size());
    std::vector<double> head_m(batch.padded_size()), slope_sm2(batch.padded_size());
    batch.evaluate(flow_m3s.data(), head_m.data(), slope_sm2.data());
    for (std::size_t i = 0; i < count; ++i) {
      const LossAndSlope one = pipes[i].per_metre(flow_m3s[i]);
      const double head = one.head_m * lengths_m[i], slope = one.slope_sm2 * lengths_m[i];
      worst = std::max(worst, flow_m3s[i] == 0.0 ? std::fabs(head_m[i]) : std::fabs(head_m[i] / head - 1.0));
      worst = std::max(worst, std::fabs(slope_sm2[i] / slope - 1.0));
    }
  }
  return worst;
}

}  // namespace

TEST_CASE("a batch gives the losses of its pipes to rounding") {
  // Some ten roundings of 1.1e-16 each; seen 6e-16 and 9e-16.
  CHECK(worst_difference({.law = Law::hazen_williams}) * 1e15 < 2.0);
  CHECK(worst_difference({.law = Law::darcy_weisbach}) * 1e15 < 4.0);
}

TEST_CASE("a batch takes pipes of one law only") {
  FrictionBatch batch;
  CHECK(batch.add({FrictionLaw{.law = Law::hazen_williams}, 0.05, 0.0, 140, 1.3e-6}, 10.0));
  CHECK_FALSE(batch.add({FrictionLaw{.law = Law::darcy_weisbach}, 0.05, 0.0, 140, 1.3e-6}, 10.0));
  CHECK_FALSE(batch.add({FrictionLaw{.law = Law::hazen_williams, .n = 1.85}, 0.05, 0.0, 140, 1.3e-6}, 10.0));
  CHECK(batch.size() == 1);
}

TEST_CASE("a batch gives the losses by the worse of two laws") {
  // The sixteenth powers of Churchill's formula enlarge roundings; seen 1.7e-15.
  CHECK(worst_difference({.law = Law::darcy_weisbach, .worse_transition = true}) * 1e15 < 8.0);
  FrictionBatch batch;
  CHECK(batch.add({FrictionLaw{.worse_transition = true}, 0.05, 0.0, 140, 1.3e-6}, 10.0));
  CHECK_FALSE(batch.add({FrictionLaw{}, 0.05, 0.0, 140, 1.3e-6}, 10.0));
}

TEST_CASE("some pipes of a batch can be evaluated again without the others") {
  FrictionBatch batch;
  for (int i = 0; i < 20; ++i) batch.add({FrictionLaw{}, 0.05, 1e-6, 140, 1.3e-6}, 10.0 + i);
  const std::vector<double> flow_m3s(batch.padded_size(), 1e-3);
  std::vector<double> head_m(batch.padded_size()), slope_sm2(batch.padded_size());
  batch.evaluate(flow_m3s.data(), head_m.data(), slope_sm2.data());
  const std::vector<double> before = head_m;
  batch.set(9, {FrictionLaw{}, 0.05, 1e-6, 140, 1.3e-6}, 100.0);
  batch.evaluate_around(9, flow_m3s.data(), head_m.data(), slope_sm2.data());
  for (std::size_t i = 0; i < batch.size(); ++i)
    CHECK(head_m[i] == Approx(before[i] * (i == 9 ? 100.0 / 19.0 : 1.0)).epsilon(1e-14));
}
