// Which draws run at an hour of the day, and what the model is then.
#include "runnel/network/hours.h"

#include <catch2/catch.hpp>

#include "support/draw.h"

using namespace runnel;
using namespace runnel::network;
using support::draw;

namespace {

Model two_places() {
  Model model;
  Outlet tap;
  tap.name = "tap";
  tap.elevation = Length::metres(10.0);
  tap.draws = {draw(0.01e-3, 6.0, 8.0), draw(0.02e-3, 18.0, 6.0)};
  model.outlets = {tap};
  Joint tee;
  tee.name = "tee";
  tee.draws = {draw(0.03e-3, 7.0, 9.0)};
  tee.draw = Flow::litres_per_second(0.36);
  model.joints = {tee};
  return model;
}

}  // namespace

TEST_CASE("the hours of change are those at which a draw begins or ends, each once") {
  CHECK(hours_of_change(two_places()) == std::vector<double>{6.0, 7.0, 8.0, 9.0, 18.0});
}

TEST_CASE("draws that go on all day change nothing") {
  Model model = two_places();
  model.joints.clear();
  model.outlets[0].draws = {draw(0.1e-3, 0.0, 0.0)};
  CHECK(hours_of_change(model).empty());
}

TEST_CASE("people open a tap just so far that what they draw comes") {
  SECTION("in its hours it lets out that much") {
    const Model then = as_people_open_it(two_places(), 7.0);
    REQUIRE(then.outlets.size() == 1);
    CHECK_FALSE(then.outlets[0].shut);
    // 0.01 L/s over the day within two hours.
    REQUIRE(then.outlets[0].opened_to);
    CHECK(then.outlets[0].opened_to->si() == Approx(0.12e-3));
    CHECK(then.joints[0].draw.si() == Approx(0.36e-3));
  }
  SECTION("at other hours it is shut") {
    const Model then = as_people_open_it(two_places(), 12.0);
    REQUIRE(then.outlets.size() == 1);
    CHECK(then.outlets[0].shut);
    CHECK(then.joints[0].draw.si() == 0.0);
  }
  SECTION("one without draws stands as it is") {
    Model model = two_places();
    model.outlets[0].draws.clear();
    const Model then = as_people_open_it(model, 7.0);
    REQUIRE(then.outlets.size() == 1);
    CHECK_FALSE(then.outlets[0].shut);
    CHECK_FALSE(then.outlets[0].opened_to);
  }
}
