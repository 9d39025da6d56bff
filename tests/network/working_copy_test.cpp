// A working copy changed in place stands as a model resolved with the same change.
#include "runnel/network/working_copy.h"

#include <catch2/catch.hpp>

#include "steady/nasty_system.h"

using namespace runnel;

namespace {

void check_same_line(const network::Line& one, const network::Line& two) {
  REQUIRE(one.course.points().size() == two.course.points().size());
  for (std::size_t i = 0; i < one.course.points().size(); ++i) {
    CHECK(one.course.points()[i].length_m == two.course.points()[i].length_m);
    CHECK(one.course.points()[i].elevation_m == two.course.points()[i].elevation_m);
  }
  REQUIRE(one.pipes.size() == two.pipes.size());
  for (std::size_t p = 0; p < one.pipes.size(); ++p) {
    CHECK(one.pipes[p].pipe.bore == two.pipes[p].pipe.bore);
    CHECK(one.pipes[p].change_forward == two.pipes[p].change_forward);
    CHECK(one.pipes[p].change_backward == two.pipes[p].change_backward);
  }
  REQUIRE(one.parts.size() == two.parts.size());
  for (std::size_t p = 0; p < one.parts.size(); ++p) CHECK(one.parts[p].k == two.parts[p].k);
}

}  // namespace

TEST_CASE("a working copy with another pipe and a crest raised is the model resolved so") {
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    network::Model model = test::NastySystem(seed, {}).system;
    network::WorkingCopy copy(support::resolved(model));
    auto& line = model.pipelines.front();
    line.pipes.back().pipe.bore = line.pipes.back().pipe.bore * 1.2;
    REQUIRE(copy.lay(0, static_cast<int>(line.pipes.size()) - 1, line.pipes.back().pipe));
    if (line.survey.size() > 2) {
      line.survey[1].elevation = line.survey[1].elevation + Length::metres(0.5);
      copy.raise(0, 1, Length::metres(0.5));
    }
    check_same_line(copy.system().lines().front(), support::resolved(model).lines().front());
  }
}

TEST_CASE("a working copy leaves the system it began with as it was") {
  const network::System system = support::resolved(test::NastySystem(1, {}).system);
  network::WorkingCopy copy(system);
  const double before = system.boxes()[0].yield.si();
  copy.yield(0, Flow::from_si(2.0 * before));
  CHECK(system.boxes()[0].yield.si() == before);
  CHECK(copy.system().boxes()[0].yield.si() == 2.0 * before);
  CHECK_THROWS_AS(copy.level(99, Length{}), std::out_of_range);
}
