// The choice of pipe where the owner bounds how fast water runs.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/sizing/size.h"
#include "runnel/verdict/answer.h"
#include "sizing/open_lines.h"

using namespace runnel;
using network::Model;
using sizing::SizeOutcome;

namespace {

enum class Bound { at_most, at_least };

Model bounded(Bound bound, double velocity_ms, const std::string& in = "") {
  Model model = open_lines::two_taps();
  network::VelocityAsk ask;
  ask.in = in;
  (bound == Bound::at_most ? ask.at_most : ask.at_least) = Velocity::metres_per_second(velocity_ms);
  model.velocity_asks.push_back(ask);
  return model;
}

void check_cheapest(const Model& model) {
  const auto answer = open_lines::answer_of(model);
  INFO(answer.trial.setting << ": " << answer.trial.reason);
  REQUIRE(answer.outcome == SizeOutcome::chosen);
  CHECK(answer.proved);
  CHECK(answer.cost == Approx(open_lines::cheapest_of_all(model, open_lines::five_sizes)).epsilon(1e-9));
  const auto flow = verdict::answer_model(answer.trial.model);
  REQUIRE(flow);
  CHECK(flow.value->good());
}

}  // namespace

TEST_CASE("bounds on the velocity leave the cheapest pipe of all that keep them") {
  const double free_cost = open_lines::answer_of(open_lines::two_taps()).cost;
  SECTION("everywhere at most") {
    // 0.5 L/s on the main: 0.928 m/s in 26.2 mm, 0.599 in 32.6 mm.
    for (const double most_ms : {0.95, 0.7, 0.5}) {
      const Model model = bounded(Bound::at_most, most_ms);
      check_cheapest(model);
      CHECK(open_lines::answer_of(model).cost >= free_cost);
    }
  }
  SECTION("in one line alone") { check_cheapest(bounded(Bound::at_most, 0.5, "lower")); }
  SECTION("at least") {
    for (const double least_ms : {0.3, 0.55}) check_cheapest(bounded(Bound::at_least, least_ms));
  }
}

TEST_CASE("a velocity that no pipe keeps is named with the bore that would") {
  // 0.5 L/s in the widest, 40.8 mm, run at 0.382 m/s.
  const auto answer = sizing::size(bounded(Bound::at_most, 0.3, "main"));
  REQUIRE_FALSE(answer);
  const Finding& finding = answer.findings.front();
  CHECK(finding.code == "velocity-out-of-reach");
  CHECK(finding.where.pipeline == "main");
  REQUIRE(finding.figures.size() == 4);
  CHECK(finding.figures[1].si == Approx(5e-4 / (3.14159265358979 * 0.0204 * 0.0204)).epsilon(1e-9));
  CHECK(finding.figures[3].si == Approx(std::sqrt(4.0 * 5e-4 / (3.14159265358979 * 0.3))).epsilon(1e-9));
}
