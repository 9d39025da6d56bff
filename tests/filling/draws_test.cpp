#include "runnel/filling/draws.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/network/daily_needs.h"
#include "support/draw.h"

using namespace runnel;
using runnel::filling::DrawSchedule;
using support::draw;

TEST_CASE("a day's volume is taken within its hours") {
  const DrawSchedule s({draw(1e-4, 6, 20)}, 0.0);
  CHECK(s.rate_m3s(0.0) == 0.0);
  CHECK(s.rate_m3s(6 * 3600.0) == Approx(1e-4 * 24 / 14).epsilon(1e-15));
  CHECK(s.rate_m3s(20 * 3600.0) == 0.0);
  CHECK(s.next_change_s(0.0) == 6 * 3600.0);
  CHECK(s.next_change_s(6 * 3600.0) == 20 * 3600.0);
  CHECK(s.next_change_s(20 * 3600.0) == 30 * 3600.0);
  CHECK(s.day_volume_m3() == Approx(8.64).epsilon(1e-14));  // 1e-4 m3/s for a day
  CHECK(s.rate_m3s(365 * 86400.0 + 7 * 3600.0) == s.rate_m3s(7 * 3600.0));
}

TEST_CASE("over midnight, all day, several at once, and a clock that starts later") {
  const DrawSchedule night({draw(1e-4, 22, 4)}, 0.0);
  CHECK(night.rate_m3s(0.0) == Approx(4e-4).epsilon(1e-15));
  CHECK(night.next_change_s(0.0) == 4 * 3600.0);
  CHECK(night.rate_m3s(12 * 3600.0) == 0.0);
  CHECK(night.next_change_s(22 * 3600.0) == 28 * 3600.0);  // midnight is no change
  const DrawSchedule all({draw(1e-4, 0, 0), draw(2e-4, 5, 5), draw(1e-5, 0, 24)}, 0.0);
  CHECK(all.steady());
  CHECK(all.rate_m3s(1234.0) == Approx(3.1e-4).epsilon(1e-14));
  CHECK(std::isinf(all.next_change_s(0.0)));
  const DrawSchedule late({draw(1e-4, 6, 20), draw(1e-5, 0, 0)}, 10.0);
  CHECK(late.rate_m3s(0.0) == Approx(1e-5 + 1e-4 * 24 / 14).epsilon(1e-14));
  CHECK(late.next_change_s(0.0) == 10 * 3600.0);
  CHECK(late.next_change_s(10 * 3600.0) == 20 * 3600.0);
}

TEST_CASE("nothing drawn") {
  CHECK_FALSE(DrawSchedule({}, 0.0).any());
  CHECK_FALSE(DrawSchedule({draw(0.0, 6, 20)}, 0.0).any());
  CHECK(DrawSchedule({}, 0.0).rate_m3s(5.0) == 0.0);
}

TEST_CASE("daily needs are the upper ends of the published table") {
  // [umaine-lesson7] beef, dry dairy 12-15; lactating dairy 40; sheep, goats 2-4; hogs 4; horses 10-12 gal,
  // FOUND
  CHECK(network::daily_need("beef cattle")->a_day.gallons() == Approx(15).epsilon(1e-14));
  CHECK(network::daily_need("milking cows")->a_day.gallons() == Approx(40).epsilon(1e-14));
  CHECK(network::daily_need("sheep")->a_day.gallons() == Approx(4).epsilon(1e-14));
  CHECK(network::daily_need("hogs")->a_day.gallons() == Approx(4).epsilon(1e-14));
  CHECK(network::daily_need("horses")->a_day.gallons() == Approx(12).epsilon(1e-14));
  CHECK(network::daily_need("people at a tapstand")->a_day.litres() ==
        Approx(45).epsilon(1e-14));  // from memory
  CHECK(network::daily_need("dragons") == nullptr);
}
