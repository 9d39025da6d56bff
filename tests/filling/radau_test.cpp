// The integrator alone, on equations whose solutions are known.
#include "runnel/filling/radau.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace runnel::filling;

namespace {

/// A leak in proportion to what is stored, and what runs in.
struct Decay final : Rates {
  double rate_per_s, inflow = 0.0;
  explicit Decay(double k, double in = 0.0) : rate_per_s(k), inflow(in) {}
  bool rates(int, const Eigen::VectorXd& v, Eigen::VectorXd& r) override {
    r = Eigen::VectorXd::Constant(v.size(), inflow) - rate_per_s * v;
    return true;
  }
  bool slopes(const Eigen::VectorXd& v, bool, Eigen::MatrixXd& s) override {
    s = -rate_per_s * Eigen::MatrixXd::Identity(v.size(), v.size());
    return true;
  }
  double flow_scale() const override { return 1.0; }
};

/// Torricelli: what runs out by a hole grows with the root of what is above it.
struct Torricelli final : Rates {
  bool rates(int, const Eigen::VectorXd& v, Eigen::VectorXd& r) override {
    if (!(v[0] >= 0.0)) return false;
    r = Eigen::VectorXd::Constant(1, -std::sqrt(v[0]));
    return true;
  }
  bool slopes(const Eigen::VectorXd& v, bool, Eigen::MatrixXd& s) override {
    s = Eigen::MatrixXd::Constant(1, 1, -0.5 / std::sqrt(v[0]));
    return true;
  }
  double flow_scale() const override { return 1.0; }
};

Eigen::VectorXd one(double v) { return Eigen::VectorXd::Constant(1, v); }

template <class Equation>
double after_one_step(Equation& equation, double start, double h) {
  Radau radau(equation, one(1e-3), 1e-8);
  Eigen::VectorXd rate;
  equation.rates(-1, one(start), rate);
  Trial trial;
  REQUIRE(radau.attempt(one(start), rate, h, trial));
  return trial.volume[0];
}

}  // namespace

TEST_CASE("weights of the stages sum to one, and the last stage is the end of the step") {
  const RadauTable& table = radau_table();
  CHECK(table.weight[0] + table.weight[1] + table.weight[2] == Approx(1.0).epsilon(1e-14));
  CHECK(table.at[2] == 1.0);
  // Quadrature of Radau with three points is exact up to t^4 [hairer-wanner1996, IV.5].
  for (int power = 1; power <= 4; ++power) {
    double sum = 0.0;
    for (int i = 0; i < 3; ++i)
      sum +=
          table.weight[static_cast<std::size_t>(i)] * std::pow(table.at[static_cast<std::size_t>(i)], power);
    CHECK(sum == Approx(1.0 / (power + 1)).epsilon(1e-13));
  }
}

TEST_CASE("one step errs by the sixth power of its length") {
  // Local error of a method of order 5: halving the step divides it by 64, in the limit of short steps; the
  // margin is what is left of the next order at these.
  Torricelli equation;
  const auto error = [&](double h) {
    const double exact = (1.0 - h / 2.0) * (1.0 - h / 2.0);
    return std::abs(after_one_step(equation, 1.0, h) - exact);
  };
  Decay decay(1.0);
  const auto decay_error = [&](double h) { return std::abs(after_one_step(decay, 1.0, h) - std::exp(-h)); };
  CHECK(std::log2(decay_error(0.5) / decay_error(0.25)) == Approx(6.0).margin(0.5));
  CHECK(error(0.25) < 1e-7);
}

TEST_CASE("a box that answers within a second does not bind a step of a day") {
  // L-stable: what is stiff is at its rest after one step, but for a share that falls with 1 / (k h).
  Decay stiff(10.0, 5.0);
  CHECK(after_one_step(stiff, 3.0, 86400.0) == Approx(0.5).epsilon(1e-4));
}

TEST_CASE("within a step the polynomial runs from its start to its end") {
  Decay decay(1.0);
  Radau radau(decay, one(1e-3), 1e-8);
  Eigen::VectorXd rate;
  decay.rates(-1, one(2.0), rate);
  Trial trial;
  REQUIRE(radau.attempt(one(2.0), rate, 0.1, trial));
  CHECK(trial.within(one(2.0), 0.0)[0] == Approx(2.0).epsilon(1e-14));
  CHECK(trial.within(one(2.0), 1.0)[0] == Approx(trial.volume[0]).epsilon(1e-9));
  CHECK(trial.within(one(2.0), 0.5)[0] == Approx(2.0 * std::exp(-0.05)).epsilon(1e-6));
  Trial shorter;
  REQUIRE(radau.attempt(one(2.0), rate, 0.01, shorter));
  CHECK(shorter.error < trial.error / 100.0);  // the estimate is of third order
}

TEST_CASE("a step into what has no answer is refused") {
  Torricelli equation;
  Radau radau(equation, one(1e-3), 1e-8);
  Eigen::VectorXd rate;
  equation.rates(-1, one(1e-4), rate);
  Trial trial;
  CHECK_FALSE(radau.attempt(one(1e-4), rate, 100.0, trial));
}

TEST_CASE("where rates are linear in the volumes, the end of a step is foreseen without asking for any") {
  Decay leak(1.0 / 3600.0, 2.0);
  Radau radau(leak, one(1e-3), 1e-8);
  Eigen::VectorXd rate;
  leak.rates(-1, one(100.0), rate);
  Trial foreseen, taken;
  REQUIRE(radau.predict(one(100.0), rate, 1800.0, foreseen));
  REQUIRE(radau.attempt(one(100.0), rate, 1800.0, taken));
  CHECK(foreseen.volume[0] == Approx(taken.volume[0]).epsilon(1e-12));
  CHECK(foreseen.within(one(100.0), 0.5)[0] == Approx(taken.within(one(100.0), 0.5)[0]).epsilon(1e-12));
  CHECK(radau.attempts() == 1);
}
