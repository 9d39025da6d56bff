// What must only ever go one way: theory in steady/kernel.h (a place's outflow rises with its own head and
// falls with every other one).
#include "laws/models.h"
#include "steady/nasty_system.h"
#include "steady/random_line.h"

using namespace runnel;

namespace {

int unsettled = 0;

void check_yield(const network::Model& system) {
  const auto before = steady::solve(system);
  const double limit = test::flow_limit(before, test::nasty_share);
  for (std::size_t b = 0; b < system.boxes.size(); ++b) {
    INFO("more water at " << system.boxes[b].name);
    network::Model more = system;
    more.boxes[b].yield = Flow::from_si(1.5 * system.boxes[b].yield.si() + 1e-5);
    const auto after = steady::solve(more);
    if (!test::both_settled(before, after, unsettled)) continue;
    for (std::size_t o = 0; o < before.outlets.size(); ++o) {
      INFO(before.outlets[o].name);
      CHECK(after.outlets[o].flow_m3s >= before.outlets[o].flow_m3s - limit);
    }
  }
}

void check_taps(const network::Model& system, int& taps) {
  for (std::size_t o = 0; o < system.outlets.size(); ++o) {
    INFO("tap " << system.outlets[o].name);
    network::Model open = system, shut = system;
    open.outlets[o].shut = false;
    shut.outlets[o].shut = true;
    const auto with = steady::solve(open), without = steady::solve(shut);
    if (!test::both_settled(with, without, unsettled)) continue;
    ++taps;
    for (std::size_t j = 0; j < with.joints.size(); ++j)
      if (with.joints[j].grade_m && without.joints[j].grade_m)
        CHECK(*with.joints[j].grade_m <= *without.joints[j].grade_m + 1e-7);  // the solver stops at 1e-9 m
    for (std::size_t k = 0; k < with.outlets.size(); ++k)
      if (k != o)
        CHECK(with.outlets[k].flow_m3s <=
              without.outlets[k].flow_m3s + test::flow_limit(without, test::nasty_share));
  }
}

}  // namespace

TEST_CASE("more yield never lowers the flow of an outlet") {
  unsettled = 0;
  for (const test::Case& c : test::all_cases()) {
    INFO(c.name);
    check_yield(c.system);
  }
  CHECK(unsettled == 0);
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    INFO("nasty system " << seed);
    check_yield(test::NastySystem(seed, {10, 1, 4, true, true}).system);
  }
  CHECK(unsettled <= 2);
}

TEST_CASE("opening a tap never raises a head, nor another tap's flow") {
  unsettled = 0;
  int taps = 0;
  for (const test::Case& c : test::all_cases()) {
    INFO(c.name);
    check_taps(c.system, taps);
  }
  CHECK(taps >= 15);
  CHECK(unsettled == 0);
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    INFO("nasty system " << seed);
    check_taps(test::NastySystem(seed, {10, 1, 4, true, false}).system, taps);
  }
  CHECK(unsettled <= 2);
}

TEST_CASE("a larger bore never lowers what a line to one outlet gives") {
  int more = 0;
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    INFO("random line " << seed);
    network::Model system = test::RandomLine(seed).system;
    const double before = test::settled(system).outlets[0].flow_m3s;
    for (auto& laid : system.pipelines[0].pipes)
      laid.pipe.bore = Length::metres(1.07 * laid.pipe.bore.metres());
    const double after = test::settled(system).outlets[0].flow_m3s;
    CHECK(after >= before * (1.0 - 1e-9));
    more += after > before * 1.01;
  }
  CHECK(more >= 300);
}

TEST_CASE("a crest raised never makes a line carry more") {
  int less = 0;
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    network::Model system = test::RandomLine(seed).system;
    auto& survey = system.pipelines[0].survey;
    // A point above both its neighbours: raising a low one would make the pipe shorter.
    std::size_t i = 1;
    const auto z = [&](std::size_t k) { return survey[k].elevation.metres(); };
    while (i + 1 < survey.size() && !(z(i) > z(i - 1) && z(i) > z(i + 1))) ++i;
    if (i + 1 >= survey.size()) continue;
    INFO("random line " << seed);
    const double before = test::settled(system).outlets[0].flow_m3s;
    survey[i].elevation = survey[i].elevation + Length::metres(1.5);
    const double after = test::settled(system).outlets[0].flow_m3s;
    CHECK(after <= before * (1.0 + 1e-9) + 1e-15);
    less += after < before * 0.99;
  }
  CHECK(less >= 100);
}
