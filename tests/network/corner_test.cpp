#include "runnel/network/corner.h"

#include <catch2/catch.hpp>

#include "runnel/steady/state.h"
#include "steady/plain_network.h"
#include "steady/random_line.h"

using namespace runnel;
using network::Corner;
using network::Unknowns;

namespace {

pipes::Pipe pipe(const char* standard, double outside_mm, double wall_mm, pipes::BoreConvention convention) {
  pipes::Pipe p;
  p.standard = standard;
  p.outside = Length::metres(1e-3 * outside_mm);
  p.wall = Length::metres(1e-3 * wall_mm);
  p.bore = p.outside - 2.0 * p.wall;
  p.bore_convention = convention;
  return p;
}

constexpr auto minimum_walls = pipes::BoreConvention::outside_less_two_minimum_walls;

/// A random line of plastic or galvanized pipe with everything about it unknown.
network::Model uncertain(std::uint64_t seed) {
  network::Model model = test::RandomLine(seed).system;
  plain::Dice dice(seed);
  network::Pipeline& line = model.pipelines[0];
  // All pipes of a line alike: where one is wider and its neighbour is not, the change of bore costs more.
  const bool metric = line.pipes.size() == 1 && dice.chance(0.5), average = dice.chance(0.5);
  for (network::LaidPipe& laid : line.pipes) {
    laid.pipe.standard = metric ? "ISO 4427-2" : "ASTM D3035";
    laid.pipe.material = dice.chance(0.3) ? "galvanized steel" : "PE100";
    laid.pipe.wall = laid.pipe.bore * 0.1;
    laid.pipe.bore_convention = average ? pipes::BoreConvention::average : minimum_walls;
  }
  line.survey_error = Length::metres(dice.real(0.0, 0.3));
  network::Box& box = model.boxes[0];
  box.bucket_tests = network::BucketTests{};
  box.bucket_tests->volume = Volume::from_si(0.01);
  const double mean_s = 0.01 / box.yield.si();
  for (const double share : {0.9, 1.0, 1.1})
    box.bucket_tests->times.push_back(Duration::seconds(share * mean_s));
  return model;
}

double flow_of(const Checked<network::System>& system) {
  REQUIRE(system);
  const steady::State state = steady::solve(*system.value, {.depths = false});
  REQUIRE(state.outcome == steady::Outcome::settled);
  CHECK(state.proof.consistent);  // the checker has the corner's laws in its own words
  return state.outlets[0].flow_m3s;
}

Unknowns only(bool Unknowns::*one) {
  Unknowns none{false, false, false, false, false, false};
  none.*one = true;
  if (none.temperature) none.transition = true;  // alone, colder water may stay laminar and lose less
  return none;
}

}  // namespace

TEST_CASE("a bore is known as far as its wall is") {
  const auto mm = [](Length l) { return 1e3 * l.metres(); };
  // Metric walls, minimum and greatest, of SDR 11: 2.0 to 2.3, 3.0 to 3.4, 10.0 to 11.1 mm [iso-11922-1].
  const double metric[][3] = {{20.0, 2.0, 2.3}, {32.0, 3.0, 3.4}, {110.0, 10.0, 11.1}};
  for (const auto& [outside, wall, most] : metric) {
    const auto range = network::bore_range(pipe("ISO 4427-2", outside, wall, minimum_walls));
    CHECK(mm(range.greatest) == Approx(outside - 2.0 * wall));
    CHECK(mm(range.least) == Approx(outside - 2.0 * most));
  }
  const auto inch = network::bore_range(pipe("ASTM D3035", 33.4, 3.0, minimum_walls));  // 12 % of the wall
  CHECK(mm(inch.greatest) - mm(inch.least) == Approx(2.0 * 0.12 * 3.0));
  const auto average = network::bore_range(pipe("ASTM D1785", 33.4, 3.0, pipes::BoreConvention::average));
  CHECK(mm(average.greatest) - 27.4 == Approx(0.36));
  CHECK(27.4 - mm(average.least) == Approx(0.36));
  for (const auto convention : {pipes::BoreConvention::stated, pipes::BoreConvention::inside_controlled}) {
    const auto known = network::bore_range(pipe("ASTM D2239", 33.4, 3.0, convention));
    CHECK(known.least == known.greatest);
  }
  const auto no_wall = network::bore_range(pipe("ISO 4427-2", 32.0, 0.0, minimum_walls));
  CHECK(no_wall.least == no_wall.greatest);
}

TEST_CASE("a line carries no more at its bad corner and no less at its good one, in each unknown") {
  int moved[6] = {};
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    const network::System system = support::resolved(uncertain(seed));
    const double written = flow_of({system, {}});
    const double limit = 1e-9 * written + 1e-12;  // what the solver settles flows to
    const auto compare = [&](const Unknowns& unknown) {
      const double bad = flow_of(at_corner(system, Corner::bad, unknown)),
                   good = flow_of(at_corner(system, Corner::good, unknown));
      CHECK(bad <= written + limit);
      CHECK(good >= written - limit);
      return good - bad > 2.0 * limit;
    };
    bool Unknowns::*const each[] = {&Unknowns::bore,   &Unknowns::roughness, &Unknowns::temperature,
                                    &Unknowns::survey, &Unknowns::yield,     &Unknowns::transition};
    for (int i = 0; i < 6; ++i) {
      CAPTURE(seed, i);
      moved[i] += compare(only(each[i]));
    }
    compare({});
  }
  for (const int times : moved) CHECK(times >= 5);
}

TEST_CASE("a corner changes what is unknown and nothing else") {
  const network::Model model = uncertain(7);
  const network::System system = support::resolved(model);
  const auto bad = at_corner(system, Corner::bad), good = at_corner(system, Corner::good);
  REQUIRE((bad && good));
  CHECK(bad.value->friction().worse_transition);
  CHECK_FALSE(good.value->friction().worse_transition);
  CHECK(bad.value->site().water.kinematic_viscosity_m2s > model.site.water.kinematic_viscosity_m2s);
  CHECK(bad.value->site().vapour_limit_m() == system.site().vapour_limit_m());
  CHECK(bad.value->boxes()[0].yield < model.boxes[0].yield);
  CHECK(good.value->boxes()[0].yield > model.boxes[0].yield);

  SECTION("a yield that bucket tests did not give stays") {
    network::Model said = model;
    said.boxes[0].yield = Flow::from_si(0.7 * model.boxes[0].yield.si());  // as a setting says it
    CHECK(at_corner(support::resolved(said), Corner::bad).value->boxes()[0].yield == said.boxes[0].yield);
  }
  SECTION("heights stay where no survey error is stated") {
    network::Model exact = model;
    exact.pipelines[0].survey_error.reset();
    const auto corner = at_corner(support::resolved(exact), Corner::bad);
    CHECK(corner.value->boxes()[0].lip == exact.boxes[0].lip);
    CHECK(corner.value->outlets()[0].elevation == exact.outlets[0].elevation);
  }
  SECTION("the spring sinks and the outlet rises by what the survey may miss") {
    const Length error = *model.pipelines[0].survey_error;
    CHECK(bad.value->boxes()[0].lip.metres() == Approx((model.boxes[0].lip - error).metres()));
    CHECK(bad.value->outlets()[0].elevation.metres() ==
          Approx((model.outlets[0].elevation + error).metres()));
    CHECK(good.value->outlets()[0].elevation.metres() ==
          Approx((model.outlets[0].elevation - error).metres()));
  }
  SECTION("nothing unknown changes nothing") {
    const Unknowns none{false, false, false, false, false, false};
    CHECK(flow_of(at_corner(system, Corner::bad, none)) == flow_of({system, {}}));
  }
}
