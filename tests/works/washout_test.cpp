#include "runnel/works/washout.h"

#include <catch2/catch.hpp>

using namespace runnel;
using namespace runnel::works;

TEST_CASE("washouts are as wide as the published table") {
  // [uganda-dwd], table 7-6: the ends of each row, mm.
  const double rows[][2] = {{300, 80},   {400, 100},  {600, 100},  {700, 150}, {1000, 150},
                            {1100, 200}, {1400, 200}, {1500, 250}, {1800, 250}};
  for (const auto& [main_mm, washout_mm] : rows)
    CHECK(washout_bore(Length::millimetres(main_mm))->millimetres() == Approx(washout_mm));
  CHECK_FALSE(washout_bore(Length::millimetres(2000)));
  CHECK(washout_bore(Length::millimetres(40.8))->millimetres() == Approx(40.8));
}

TEST_CASE("the table empties the last stretch in about an hour") {
  // 300 mm, 200 m: 14.1 m3, 3.93 L/s mean, 0.78 m/s in 80 mm; computed.
  const Emptying found =
      emptying_of(Length::millimetres(300), Length::metres(200), Duration::hours(1), Length::millimetres(80));
  CHECK(found.volume.cubic_metres() == Approx(14.1).margin(0.05));
  CHECK(found.mean.litres_per_second() == Approx(3.93).margin(0.005));
  CHECK(found.in_washout.metres_per_second() == Approx(0.78).margin(0.005));
}
