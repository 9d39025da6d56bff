#include "runnel/sizing/constant_spread.h"

#include <catch2/catch.hpp>

#include "runnel/sizing/chance.h"
#include "steady/small_systems.h"

using namespace runnel;
using network::Model;

namespace {

/// A line by Hazen-Williams whose end stands so high that little is left.
Model line_to(double end_m) {
  Model model = small::empty();
  model.friction.law = losses::Law::hazen_williams;
  small::box(model, "spring", 1e-3, 100.0, 100.5);
  small::outlet(model, "end", end_m);
  small::line(model, "line", "spring", "end", 0.0262, {{0.0, 100.0}, {300.0, end_m}});
  network::Ask ask;
  ask.at = "end";
  ask.flow = Flow::from_si(4e-4);
  model.asks.push_back(ask);
  return model;
}

}  // namespace

TEST_CASE("a margin thinner than the spread of the constant is flagged, and a thicker one is not") {
  double low = 50.0, high = 100.0;  // the end where nothing is left
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (sizing::margins_m(line_to(middle)).at(0) >= 0.0 ? low : high) = middle;
  }
  const double loss_m = 100.5 - low;
  // From k 10.67 to 10.9031 losses rise by 2.2 %.
  const Model thin = line_to(low - 0.01 * loss_m);
  const auto hangs = sizing::hangs_on_constant(thin);
  REQUIRE(hangs.has_value());
  CHECK(hangs->place == "end");
  CHECK(hangs->margin_m > 0.0);
  CHECK(hangs->turns_at_k > thin.friction.k);
  CHECK(hangs->turns_at_k < sizing::greatest_printed_k);
  Model just = thin;
  just.friction.k = hangs->turns_at_k - 1e-6;
  CHECK(sizing::margins_m(just).at(0) >= 0.0);
  just.friction.k = hangs->turns_at_k + 1e-6;
  CHECK(sizing::margins_m(just).at(0) < 0.0);
  CHECK_FALSE(sizing::hangs_on_constant(line_to(low - 0.04 * loss_m)).has_value());
  SECTION("what fails anyhow hangs on nothing, and neither does another law") {
    CHECK_FALSE(sizing::hangs_on_constant(line_to(low + 1.0)).has_value());
    Model other = thin;
    other.friction.law = losses::Law::darcy_weisbach;
    CHECK_FALSE(sizing::hangs_on_constant(other).has_value());
  }
}
