// A branch over a crest beside a main that runs: whether it starts, and whether order decides.
#include "runnel/air/branch_start.h"

#include <catch2/catch.hpp>

#include "air/air_systems.h"
#include "runnel/air/at_first.h"
#include "runnel/steady/solver.h"

using namespace runnel;

namespace {

/// The main falls from 60 m over a tee at 40 m to a mouth of its own; the branch climbs over 50 m, falls into
/// a low at 38 m and climbs to its trough at 44 m. The wider the mouth, the lower stands the tee.
network::Model branched(double mouth_m, double crest_m = 50.0) {
  network::Model s = small::empty();
  small::box(s, "spring", 1e-2, 59.5, 60.0);
  small::joint(s, "tee", 40.0);
  small::outlet(s, "mill", 20.0, mouth_m, 1.0);
  small::outlet(s, "trough", 44.0);
  small::line(s, "upper", "spring", "tee", 0.04, {{0, 59.5}, {300, 40}});
  small::line(s, "lower", "tee", "mill", 0.04, {{0, 40}, {200, 20}});
  small::line(s, "branch", "tee", "trough", 0.026, {{0, 40}, {100, crest_m}, {150, 38}, {190, 44}});
  return s;
}

struct Started {
  air::AtFirst at_first;
  const air::BranchStart& branch() const { return at_first.branches.at(0); }
  double branch_m3s() const { return at_first.first().runs[2].flow_m3s; }
};

Started start(const network::Model& model) {
  const network::System system = support::resolved(model);
  auto found = air::at_first(system, air::ways_of(system, 10));
  REQUIRE(found);
  CHECK(found->proved());
  REQUIRE(found->branches.size() == 1);
  return {std::move(*found)};
}

}  // namespace

TEST_CASE("the head at a tee is that of the rest running with the branch still") {
  for (const double mouth_m : {0.004, 0.010, 0.016, 0.030}) {
    CAPTURE(mouth_m);
    const Started started = start(branched(mouth_m));
    const air::BranchStart& branch = started.branch();
    CHECK(branch.line == 2);
    // Without the branch the system is a main alone.
    network::Model main = branched(mouth_m);
    main.pipelines.pop_back();
    main.outlets.pop_back();
    const auto alone = steady::solve(support::resolved(main));
    REQUIRE(branch.running_m);
    CHECK(*branch.running_m == Approx(*alone.place("tee")->grade_m).epsilon(0.0).margin(1e-7));
    // What it needs: the crest and the air behind it under the column of its end, as started alone.
    const auto ways = air::ways_of(support::resolved(branched(mouth_m)), 10);
    CHECK(branch.needed_m == ways.at(branch.way).start.pockets.at(0).head_at_crest_m);
    CHECK(branch.needed_m > 50.0);
  }
}

TEST_CASE("a branch runs beside the main exactly where the head at its tee lifts it over its air") {
  int runs = 0, still = 0;
  for (double mouth_m = 0.002; mouth_m < 0.040; mouth_m += 0.0005) {
    CAPTURE(mouth_m);
    const Started started = start(branched(mouth_m));
    const bool running = started.branch_m3s() > 1e-9;
    CHECK(started.branch().starts_running == running);
    (running ? runs : still)++;
  }
  CHECK(runs > 5);
  CHECK(still > 5);
}

TEST_CASE("opened first a branch runs on only where its current carries its air off and the tee stays high") {
  int decided = 0, never = 0;
  for (double mouth_m = 0.002; mouth_m < 0.040; mouth_m += 0.0005) {
    CAPTURE(mouth_m);
    const Started started = start(branched(mouth_m));
    const air::BranchStart& branch = started.branch();
    CHECK(branch.opened_first.empty() == branch.starts_running);
    for (const air::OpenedFirst& opened : branch.opened_first) {
      REQUIRE(opened.state.settled);
      CHECK(opened.state.proof.consistent);
      const double comes_m3s = opened.state.runs[2].flow_m3s;
      const bool cleared = opened.state.air.empty();
      if (!cleared) CHECK(comes_m3s <= 1e-9);  // with its air there is only one state
      (comes_m3s > 1e-9 ? decided : never)++;
    }
  }
  CHECK(decided > 0);
  CHECK(never > 0);
}

TEST_CASE("names and the datum change nothing about a branch that starts beside a main") {
  const Started plain = start(branched(0.012));
  const Started lifted = start(test::lifted(branched(0.012), 700.0));
  CHECK(lifted.branch().needed_m - 700.0 == Approx(plain.branch().needed_m).epsilon(0.0).margin(1e-9));
  CHECK(*lifted.branch().running_m - 700.0 == Approx(*plain.branch().running_m).epsilon(0.0).margin(1e-7));
  CHECK(lifted.branch().starts_running == plain.branch().starts_running);
  network::Model renamed = branched(0.012);
  for (auto& line : renamed.pipelines) {
    line.name = "z " + line.name;
    for (std::string* end : {&line.from, &line.to})
      if (*end == "tee") *end = "a joint";
  }
  renamed.joints[0].name = "a joint";
  CHECK(*start(renamed).branch().running_m == *plain.branch().running_m);
}

TEST_CASE("no branch is told of where its high point is vented or it leaves from no tee") {
  network::Model vented = branched(0.010);
  vented.pipelines[2].parts.push_back(small::part(network::PartKind::air_valve, "A1", 100.0));
  const network::System system = support::resolved(vented);
  const auto found = air::at_first(system, air::ways_of(system, 10));
  if (found) CHECK(found->branches.empty());
  network::Model single = small::empty();
  small::box(single, "spring", 1e-2, 59.5, 60.0);
  small::joint(single, "bend", 40.0);
  small::outlet(single, "trough", 44.0);
  small::line(single, "upper", "spring", "bend", 0.04, {{0, 59.5}, {300, 40}});
  small::line(single, "branch", "bend", "trough", 0.026, {{0, 40}, {100, 50}, {150, 38}, {190, 44}});
  const network::System one = support::resolved(single);
  const auto alone = air::at_first(one, air::ways_of(one, 10));
  REQUIRE(alone);
  CHECK(alone->branches.empty());
}
