#include "runnel/works/stock_water.h"

#include <catch2/catch.hpp>

using namespace runnel;
using namespace runnel::works;

TEST_CASE("tanks for herds meet the published examples") {
  // [nrcs-sd2006-1], a: 100 head, 1800 gal/day, half of it in an hour, 4 gal/min: tank 660 gal.
  CHECK(tank_beyond_inflow(0.5 * Volume::gallons(1800), Flow::gallons_per_minute(4), Duration::hours(1))
            .gallons() == Approx(660).epsilon(1e-12));
  // b: 500 head at 18 gal, 10 gal/min for 12 h: tank 1800 gal.
  CHECK(tank_beyond_inflow(500 * Volume::gallons(18), Flow::gallons_per_minute(10), Duration::hours(12))
            .gallons() == Approx(1800).epsilon(1e-12));
  CHECK(tank_beyond_inflow(Volume::gallons(10), Flow::gallons_per_minute(10), Duration::hours(1)).si() ==
        0.0);
}

TEST_CASE("a herd's peak follows from its drinking spaces") {
  CHECK(drinking_spaces(100, Length::feet(1000)) == 5);
  CHECK(drinking_spaces(100, Length::feet(2500)) == 10);
  CHECK(drinking_spaces(101, Length::feet(2500)) == 11);
  CHECK(drinking_spaces(0, Length::feet(2500)) == 0);
  // 100 head together: 20 gal/min, 1.26 L/s; computed.
  CHECK((10 * large_stock_drinks).litres_per_second() == Approx(1.26).margin(0.005));
}

TEST_CASE("a gallon a minute waters a hundred head and fills a trough in half a day") {
  // A university's screen: 1 gal/min "waters nearly 100 cattle"; 1440 gal a day, 14.4 gal a head.
  CHECK(head_watered(Flow::gallons_per_minute(1), Volume::gallons(14.4)) == Approx(100).epsilon(1e-12));
  // [agproud-52087]: 750 gal at 1 gal/min, 12.5 h.
  CHECK(trough_fill_time(Volume::gallons(750), Flow::gallons_per_minute(1)).hours() ==
        Approx(12.5).epsilon(1e-12));
}
