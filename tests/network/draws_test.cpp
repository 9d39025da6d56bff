#include "runnel/network/draws.h"

#include <catch2/catch.hpp>

#include "support/draw.h"
#include "support/resolved.h"

using namespace runnel;
using namespace runnel::network;
using support::draw;

TEST_CASE("a draw runs within its hours, also over midnight, and all day without any") {
  CHECK(hours_a_day(draw(1e-4, 6, 20)) == 14.0);
  CHECK(hours_a_day(draw(1e-4, 22, 4)) == 6.0);
  CHECK(hours_a_day(draw(1e-4, 5, 5)) == 24.0);
  CHECK(hours_a_day(draw(1e-4, 0, 24)) == 24.0);
  CHECK(while_it_runs(draw(1e-4, 6, 18)).si() == Approx(2e-4).epsilon(1e-15));
}

TEST_CASE("the busiest hour is that in which draws overlap most") {
  CHECK(busiest_hour({}).si() == 0.0);
  // 2e-4 from 6 to 18, 6e-4 from 10 to 14: together from 10 to 14.
  CHECK(busiest_hour({draw(1e-4, 6, 18), draw(1e-4, 10, 14)}).si() == Approx(8e-4).epsilon(1e-15));
  // One ends as the other begins: never together.
  CHECK(busiest_hour({draw(1e-4, 6, 12), draw(1e-4, 12, 18)}).si() == Approx(4e-4).epsilon(1e-15));
  // Over midnight into the small hours of another.
  CHECK(busiest_hour({draw(1e-4, 22, 4), draw(1e-4, 3, 9)}).si() == Approx(8e-4).epsilon(1e-15));
  CHECK(busiest_hour({draw(1e-4, 0, 0), draw(1e-4, 24, 6)}).si() == Approx(5e-4).epsilon(1e-15));
  CHECK(daily_mean({draw(1e-4, 6, 18), draw(3e-4, 0, 0)}).si() == Approx(4e-4).epsilon(1e-15));
}

TEST_CASE("what is drawn at a tap by the hour is a need there unless the model asks itself") {
  Model model;
  Box box;
  box.name = "spring";
  box.yield = Flow::from_si(1e-3);
  box.outlet = Length::metres(9.5);
  box.lip = Length::metres(10);
  model.boxes = {box};
  Outlet tap;
  tap.name = "tap";
  tap.opening = Length::metres(0.01);
  tap.draws = {draw(1e-5, 6, 12), draw(1e-5, 9, 12)};
  model.outlets = {tap};
  Pipeline line;
  line.name = "main";
  line.from = "spring";
  line.to = "tap";
  LaidPipe laid;
  laid.pipe.bore = Length::metres(0.03);
  line.pipes = {laid};
  line.survey = {{Length{}, Length::metres(9.5)}, {Length::metres(100), Length{}}};
  model.pipelines = {line};

  const System system = support::resolved(model);
  REQUIRE(system.asks().size() == 1);
  CHECK(system.asks()[0].at == "tap");
  CHECK(system.asks()[0].flow.si() == Approx(1.2e-4).epsilon(1e-15));  // 4e-5 and 8e-5 from 9 to 12
  CHECK(support::resolved(system.model()).asks().size() == 1);         // once is enough

  Ask own;
  own.at = "tap";
  own.flow = Flow::from_si(1e-4);
  model.asks = {own};
  REQUIRE(support::resolved(model).asks().size() == 1);
  // The greater of the two is needed.
  CHECK(support::resolved(model).asks()[0].flow.si() == Approx(1.2e-4).epsilon(1e-15));
  model.asks[0].flow = Flow::from_si(2e-4);
  REQUIRE(support::resolved(model).asks().size() == 1);
  CHECK(support::resolved(model).asks()[0].flow.si() == 2e-4);

  // A setting says what is drawn all day in place of the hours.
  Setting quiet;
  quiet.name = "quiet";
  quiet.draws = {{"tap", Flow{}, {}}};
  model.asks.clear();
  model.settings = {quiet};
  CHECK(support::resolved(*under_setting(model, "quiet").value).asks().empty());
}
