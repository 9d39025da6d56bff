#include "runnel/network/name_index.h"

#include <catch2/catch.hpp>

using namespace runnel;
using namespace runnel::network;

TEST_CASE("things are found by name, the first of two with one name") {
  Model model;
  model.boxes = {Box{"spring"}, Box{"spring"}};
  model.tanks = {Tank{"spring"}, Tank{"barn"}};
  model.outlets = {Outlet{"tap"}};
  model.joints = {Joint{"tee"}};
  const NameIndex index(model);
  CHECK(index.box("spring") == &model.boxes[0]);
  CHECK(index.tank("spring") == &model.tanks[0]);
  CHECK(index.tank("barn") == &model.tanks[1]);
  CHECK(index.outlet("tap") == &model.outlets[0]);
  CHECK(index.joint("tee") == &model.joints[0]);
  CHECK(index.joint("tap") == nullptr);
  REQUIRE(index.place("spring") != nullptr);
  CHECK(index.place("spring")->kind == PlaceKind::box);
  CHECK(index.place("nowhere") == nullptr);
  CHECK(index.places().size() == 6);
  CHECK(index.place_names() == std::vector<std::string>{"barn", "spring", "tap", "tee"});
}

TEST_CASE("each kind of place says where lines meet it and what that costs them") {
  Model model;
  Box box;
  box.name = "box", box.outlet = Length::metres(10.0), box.lip = Length::metres(11.0);
  Tank tank;
  tank.name = "tank", tank.floor = Length::metres(1.0), tank.lip = Length::metres(3.0);
  tank.inlet = Length::metres(2.5);
  Outlet open_end, tap;
  open_end.name = "end", open_end.elevation = Length::metres(4.0);
  tap.name = "tap", tap.opening = Length::millimetres(13.0);
  Joint joint;
  joint.name = "tee", joint.elevation = Length::metres(5.0);
  model.boxes = {box};
  model.tanks = {tank};
  model.outlets = {open_end, tap};
  model.joints = {joint};
  const auto places = places_of(model);
  REQUIRE(places.size() == 5);
  CHECK(places[0].leaving.low_m == 10.0);
  CHECK(places[0].entering.high_m == 11.0);
  CHECK(places[1].leaving.low_m == 1.0);
  CHECK(places[1].entering.high_m == 2.5);
  CHECK(places[2].takes_exit_loss);
  CHECK_FALSE(places[3].takes_exit_loss);
  CHECK(places[4].leaving.low_m == 5.0);
  CHECK_FALSE(places[4].open_water);
  CHECK(places[0].open_water);
}
