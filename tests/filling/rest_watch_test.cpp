// When a run may be called done: water at rest, a day like the day before, tanks that sink from day to day.
#include "runnel/filling/rest_watch.h"

#include <catch2/catch.hpp>

#include "filling/systems.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

/// A spring of 0.2 L/s; `tanks` tanks of pi * 2 m3 on lines of their own, drawn from by the hour if asked.
Model tanks(int count, bool by_the_hour) {
  Model s = spring_and_tank(11.0);
  for (int i = 1; i < count; ++i) {
    Tank more = round_tank("tank " + std::to_string(i), 10.0, 2.0, 2.0);
    s.tanks.push_back(more);
    s.pipelines.push_back(line("in " + std::to_string(i), "spring", more.name, 100.0, 29.0, 12.0, 0.026));
  }
  if (by_the_hour) s.tanks[0].draws = {draw(1e-4, 6.0, 9.0)};
  return s;
}

Eigen::VectorXd volumes(std::initializer_list<double> m3) {
  Eigen::VectorXd all(static_cast<Eigen::Index>(m3.size()));
  Eigen::Index i = 0;
  for (const double v : m3) all[i++] = v;
  return all;
}

}  // namespace

TEST_CASE("where draws are steady, water rests once hardly anything moves anywhere") {
  const auto system = support::resolved(tanks(2, false));
  const Basins basins(system, 0.0);
  RestWatch watch(basins);
  const Eigen::VectorXd v = volumes({3.0, 3.0});
  watch.begin(v);
  CHECK(watch.kind() == RestKind::no);
  // A thousand-millionth of the spring's 0.2 L/s is rest.
  watch.look(10.0, v, volumes({1e-13, 3e-13}));
  CHECK(watch.kind() == RestKind::no);
  watch.look(20.0, v, volumes({-3e-13, 1e-13}));
  CHECK(watch.kind() == RestKind::no);
  watch.look(30.0, v, volumes({1e-13, -1e-13}));
  CHECK(watch.kind() == RestKind::rest);
}

TEST_CASE("what happens repeats itself if a float valve opens twice with the same water everywhere") {
  const auto system = support::resolved(tanks(2, false));
  const Basins basins(system, 0.0);
  RestWatch watch(basins);
  watch.begin(volumes({3.0, 3.0}));
  watch.float_opened("one", volumes({3.0, 3.0}));
  watch.float_opened("two", volumes({3.0, 3.0}));  // another float valve
  CHECK_FALSE(watch.repeats());
  // The second tank has sunk by more than rounding in between, then by less: a tank holds 6.28 m3.
  watch.float_opened("one", volumes({3.0, 3.0 - 1e-6}));
  CHECK_FALSE(watch.repeats());
  watch.float_opened("one", volumes({3.0, 3.0 - 1.5e-6}));
  CHECK(watch.repeats());
}

TEST_CASE("no storage is at rest") {
  Model s = tanks(1, false);
  s.tanks.clear();
  Outlet end;
  end.name = "tank";
  end.elevation = m(12.0);
  s.outlets.push_back(end);
  const auto system = support::resolved(s);
  const Basins basins(system, 0.0);
  RestWatch watch(basins);
  watch.begin(volumes({}));
  watch.look(10.0, volumes({}), volumes({}));
  CHECK(watch.kind() == RestKind::rest);
}

TEST_CASE("where draws change by the hour, a day like the day before is the end, in every storage") {
  const auto system = support::resolved(tanks(2, true));
  const Basins basins(system, 0.0);
  const double same = 0.5e-7 * basins.stores()[0].lip_m3, other = 2e-7 * basins.stores()[0].lip_m3;
  const Eigen::VectorXd still = volumes({0.0, 0.0}), begun = volumes({3.0, 3.0});
  const auto after = [&](const Eigen::VectorXd& a_day_later, double time_s) {
    RestWatch watch(basins);
    watch.begin(begun);
    watch.look(time_s, a_day_later, still);  // that nothing moves just now says nothing
    return watch.kind();
  };
  CHECK(after(volumes({3.0 + same, 3.0 - same}), day_s) == RestKind::daily);
  CHECK(after(volumes({3.0 + other, 3.0}), day_s) == RestKind::no);
  CHECK(after(volumes({3.0, 3.0 - other}), day_s) == RestKind::no);
  CHECK(after(begun, day_s + 1.0) == RestKind::no);  // a second after midnight
  CHECK(after(begun, 0.5 * day_s) == RestKind::no);
  CHECK(after(begun, 0.0) == RestKind::no);              // the first midnight has no day before it
  CHECK(after(begun, day_s + 1e-7) == RestKind::daily);  // the rounding of the time
}

TEST_CASE("days are compared each with the one before, not with the first") {
  const auto system = support::resolved(tanks(1, true));
  const Basins basins(system, 0.0);
  RestWatch watch(basins);
  const Eigen::VectorXd still = volumes({0.0});
  watch.begin(volumes({1.0}));
  watch.look(day_s, volumes({2.0}), still);
  CHECK(watch.kind() == RestKind::no);
  watch.look(1.5 * day_s, volumes({1.0}), still);
  watch.look(2.0 * day_s, volumes({2.0}), still);
  CHECK(watch.kind() == RestKind::daily);
  watch.look(3.0 * day_s, volumes({1.9}), still);
  CHECK(watch.kind() == RestKind::no);
}

TEST_CASE(
    "a tank sinks if it stands lower at its highest than the day before, not if it is only drawn lower") {
  const auto system = support::resolved(tanks(2, true));
  const Basins basins(system, 0.0);
  const double felt = 2e-4 * basins.stores()[0].lip_m3, unfelt = 0.5e-4 * basins.stores()[0].lip_m3;
  const Eigen::VectorXd still = volumes({0.0, 0.0});
  RestWatch watch(basins);
  watch.begin(volumes({3.0, 3.0}));
  const auto day = [&](int number, double highest, double lowest) {
    watch.look((number - 0.6) * day_s, volumes({3.0, highest}), still);
    watch.look((number - 0.3) * day_s, volumes({3.0, lowest}), still);
    watch.look(number * day_s, volumes({3.0, lowest}), still);
    return watch.sinks();
  };
  CHECK_FALSE(day(1, 3.0, 2.0));
  CHECK_FALSE(day(2, 3.0, 0.5));  // drawn down farther, and up again
  CHECK_FALSE(day(3, 3.0 - unfelt, 0.5));
  CHECK(day(4, 3.0 - felt, 0.5));
  CHECK(day(5, 3.0 - 3.0 * felt, 0.5));
  CHECK_FALSE(day(6, 3.0, 0.5));  // it has come up again
}
