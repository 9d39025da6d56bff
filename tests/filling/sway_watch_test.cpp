// When it is certain that a storage comes no lower than it has been, though nothing ever repeats.
#include "runnel/filling/sway_watch.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <initializer_list>

#include "filling/systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

Model two_tanks() {
  Model s = spring_and_tank(11.0);
  s.tanks.push_back(round_tank("other", 10.0, 2.0, 2.0));
  s.pipelines.push_back(line("in other", "spring", "other", 100.0, 29.0, 12.0, 0.026));
  return s;
}

Eigen::VectorXd volumes(double one_m3, double other_m3) {
  Eigen::VectorXd both(2);
  both << one_m3, other_m3;
  return both;
}

/// The first storage swings by 0.2 m3 four times a day, and opens a float valve each time; the second has the
/// volume that is asked for. Looks every half hour for so many days.
template <class Second>
SwayWatch watched(const Basins& basins, double days, const Second& second_m3, int valves = 1) {
  SwayWatch watch(basins);
  watch.begin(volumes(3.0, second_m3(0.0)));
  for (int look = 1; look <= static_cast<int>(days * 48.0); ++look) {
    const double day = look / 48.0;
    watch.look(day * day_s, volumes(3.0 + 0.2 * std::sin(8.0 * std::acos(-1.0) * day), second_m3(day)));
    if (look % 12 == 0)
      for (int v = 0; v < valves; ++v) watch.float_opened("valve " + std::to_string(v));
  }
  return watch;
}

}  // namespace

TEST_CASE("a storage sways once it has come no lower in one while than in the one before") {
  const auto system = support::resolved(two_tanks());
  const Basins basins(system, 0.0);
  const auto still = [](double) { return 3.0; };
  // Either while is a day: four openings in it are enough.
  CHECK_FALSE(watched(basins, 1.9, still).sways(0));
  CHECK(watched(basins, 2.2, still).sways(0));
  CHECK(watched(basins, 2.2, still).sways(1));
}

TEST_CASE("nothing sways where no float valve opens") {
  const auto system = support::resolved(two_tanks());
  const Basins basins(system, 0.0);
  CHECK_FALSE(watched(
                  basins, 9.0, [](double) { return 3.0; }, 0)
                  .sways(1));
}

TEST_CASE("a while lasts until each float valve that has opened has opened some times") {
  const auto system = support::resolved(two_tanks());
  const Basins basins(system, 0.0);
  SwayWatch watch(basins);
  watch.begin(volumes(3.0, 3.0));
  watch.float_opened("rare");
  for (int look = 1; look <= 10 * 48; ++look) {
    watch.look(look / 48.0 * day_s, volumes(3.0, 3.0));
    watch.float_opened("often");
  }
  CHECK_FALSE(watch.sways(0));
}

TEST_CASE("a storage that falls does not sway, whether at its lowest or in the mean") {
  const auto system = support::resolved(two_tanks());
  const Basins basins(system, 0.0);
  const double whole_m3 = basins.stores()[1].lip_m3;
  // The share of the tank by which it falls in a day, and so in the first two whiles.
  const auto falling = [&](double share) { return [=](double day) { return 3.0 - share * day * whole_m3; }; };
  for (const double days : {2.2, 4.2, 8.2, 16.2}) {
    CHECK_FALSE(watched(basins, days, falling(2e-3)).sways(1));
    CHECK(watched(basins, days, falling(2e-3)).sways(0));  // the other does
  }
  CHECK(watched(basins, 2.2, falling(0.5e-3)).sways(1));
  // Drawn down to the same level every day, but filled to less and less.
  const auto less_high = [&](double day) {
    return std::fmod(day, 1.0) > 0.9 ? 1.0 : 4.0 - 0.02 * std::floor(day) * whole_m3;
  };
  CHECK_FALSE(watched(basins, 2.2, less_high).sways(1));
}
