// A system cut at its open water into trees, or found to be none.
#include "runnel/sizing/design_parts.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "steady/small_systems.h"

using namespace runnel;
using network::Model;
using sizing::Part;

namespace {

/// A box over a tee with two ways on: to a tank, and to a trough. The second line is drawn from its lower
/// end.
Model tree() {
  Model m = small::empty();
  small::box(m, "spring", 1e-3, 100.0, 100.6);
  small::tank(m, "tank", 60.0, 59.0);
  small::outlet(m, "trough", 50.0, 0.01, 2.5);
  small::joint(m, "tee", 80.0);
  small::line(m, "main", "spring", "tee", 0.04, {{0, 100}, {100, 80}});
  small::line(m, "to tank", "tee", "tank", 0.03, {{0, 80}, {100, 60}});
  small::line(m, "to trough", "tee", "trough", 0.03, {{0, 80}, {100, 50}});
  return m;
}

std::optional<std::vector<Part>> cut(const Model& model) {
  return sizing::parts_of(support::resolved(model));
}

}  // namespace

TEST_CASE("a tree below one box is one part, its upper lines first") {
  const network::System system = support::resolved(tree());
  const auto parts = sizing::parts_of(system);
  REQUIRE(parts);
  REQUIRE(parts->size() == 1);
  const Part& part = parts->front();
  CHECK(part.source == system.box_place(0));
  REQUIRE(part.lines.size() == 3);
  CHECK(part.lines[0].line == 0);
  CHECK(part.lines[0].above == part.source);
  for (const auto& line : part.lines) {
    CHECK(line.forward);
    const bool hangs = line.above == part.source ||
                       std::any_of(part.lines.begin(), part.lines.end(),
                                   [&](const auto& other) { return other.below == line.above; });
    CHECK(hangs);
  }
}

TEST_CASE("open water cuts, and what feeds stands before what is fed, however the model orders them") {
  Model m = tree();
  small::outlet(m, "end", 30.0, 0.01, 2.5);
  small::line(m, "on", "tank", "end", 0.03, {{0, 58.5}, {100, 30}});
  for (int round = 0; round < 24; ++round) {
    std::rotate(m.pipelines.begin(), m.pipelines.begin() + 1, m.pipelines.end());
    if (round % 4 == 3) std::swap(m.pipelines[0], m.pipelines[2]);
    const network::System system = support::resolved(m);
    const auto parts = sizing::parts_of(system);
    REQUIRE(parts);
    REQUIRE(parts->size() == 2);
    CHECK((*parts)[0].source == system.box_place(0));
    CHECK((*parts)[1].source == system.tank_place(0));
    CHECK((*parts)[0].lines.size() == 3);
    CHECK((*parts)[1].lines.size() == 1);
  }
}

TEST_CASE("a line drawn against the water is walked backward") {
  Model m = tree();
  auto& line = m.pipelines[2];
  m.joints.push_back(m.joints[0]);
  m.joints.back().name = "lower";
  m.joints.back().elevation = Length::metres(55.0);
  line = small::line(m, "back", "lower", "tee", 0.03, {{0, 55}, {100, 80}});
  m.pipelines.pop_back();
  small::line(m, "out", "lower", "trough", 0.03, {{0, 55}, {50, 50}});
  const auto parts = cut(m);
  REQUIRE(parts);
  for (const auto& walked : parts->front().lines) CHECK(walked.forward == (walked.line != 2));
}

TEST_CASE("there are no parts where one forms a loop, has two sources or none, or feeds itself") {
  REQUIRE(cut(tree()));
  Model m = tree();
  SECTION("two lines side by side") {
    small::line(m, "second", "spring", "tee", 0.03, {{0, 100}, {150, 80}});
  }
  SECTION("a loop through joints") {
    small::joint(m, "far", 70.0);
    small::line(m, "a", "tee", "far", 0.03, {{0, 80}, {50, 70}});
    small::line(m, "b", "far", "tee", 0.03, {{0, 70}, {50, 80}});
  }
  SECTION("a second spring") {
    small::box(m, "other", 1e-3, 95.0, 95.5);
    small::line(m, "from other", "other", "tee", 0.03, {{0, 95}, {100, 80}});
  }
  SECTION("joints that hang on nothing") {
    small::joint(m, "far", 70.0);
    small::joint(m, "near", 75.0);
    small::line(m, "alone", "near", "far", 0.03, {{0, 75}, {50, 70}});
  }
  SECTION("two boxes that feed each other") {
    small::box(m, "left", 0.0, 40.0, 40.5);
    small::box(m, "right", 0.0, 40.0, 40.5);
    small::line(m, "there", "left", "right", 0.03, {{0, 40}, {50, 40.2}});
    small::line(m, "and back", "right", "left", 0.03, {{0, 40}, {60, 40.2}});
  }
  CHECK_FALSE(cut(m));
}
