// The first mark that the water passes within a step.
#include "runnel/filling/seek.h"

#include <catch2/catch.hpp>

#include "filling/systems.h"
#include "support/rooms.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// One step of `h` seconds from where the tank stands.
Trial step(Basins& basins, const Eigen::VectorXd& volume, double h) {
  std::vector<Event> events;
  REQUIRE(basins.settle(0.0, volume, false, events));
  Eigen::VectorXd rate(1);
  basins.probed_rates(rate);
  Radau radau(basins, Eigen::VectorXd::Constant(1, 1e-3), 1e-8);
  Trial trial;
  REQUIRE(radau.attempt(volume, rate, h, trial));
  return trial;
}

}  // namespace

TEST_CASE("the lip is found where the water reaches it, and not in a step that ends below") {
  const auto system = support::resolved(spring_and_tank(11.0));
  Basins basins(system, 0.0);
  std::vector<double> spilled;
  const Eigen::VectorXd volume = basins.start(system, false, spilled);
  Seeker seeker(basins);
  seeker.note_sides(volume);
  // 2e-4 m3/s into pi m3 for the metre that is left: closed form.
  const double to_lip_s = (basins.stores()[0].lip_m3 - volume[0]) / 2e-4;
  const Trial past = step(basins, volume, 2.0 * to_lip_s);
  const auto found = seeker.first_mark(volume, past);
  REQUIRE(found);
  CHECK(found->kind == MarkKind::lip);
  CHECK(found->direction == 1);
  CHECK(found->share == Approx(0.5).epsilon(1e-6));
  CHECK_FALSE(seeker.first_mark(volume, step(basins, volume, 0.5 * to_lip_s)));
}
