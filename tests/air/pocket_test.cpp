#include "runnel/air/pocket.h"

#include <catch2/catch.hpp>
#include <random>

namespace air = runnel::air;

TEST_CASE("the volume above a level counts each piece by its share, flat pieces at once") {
  // Vertical shafts and a flat: areas of bore 1 are pi/4. 10 down to 6 (4 m), flat 3 m, 6 down to 1 (5 m).
  auto profile = air::profile_of({{0, 10}, {0, 6}, {3, 6}, {3, 1}}, 1.0);
  const air::LegAir leg(profile, 0, 3, 1.0);
  const double area = profile.points[0].area_m2;
  const auto near = [](double v) { return Approx(v).epsilon(1e-14); };
  CHECK(leg.start_volume_m3() == near(12 * area));
  CHECK(leg.volume_above_m3(8.0) == near(2 * area));
  CHECK(leg.volume_above_m3(6.0) == near(4 * area));
  CHECK(leg.volume_from_m3(6.0) == near(7 * area));
  CHECK(leg.volume_above_m3(5.0) == near(8 * area));
  CHECK(leg.volume_above_m3(10.0) == 0.0);
  // 12 m of air pressed to 6 lies with 2 m of it in the flat; to 3 it is above, to 9 below.
  CHECK(leg.under_gauge(10.0, 10.0).interface_m == near(6.0));
  CHECK(leg.under_gauge(10.0, 30.0).interface_m == near(7.0));
  CHECK(leg.under_gauge(9.0, 3.0).interface_m == near(4.0));
}

TEST_CASE("pressed by a column or by the gauge head it makes, a pocket is the same") {
  std::mt19937 dice(5);
  const auto draw = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(dice); };
  for (int i = 0; i < 2000; ++i) {
    std::vector<std::pair<double, double>> points;
    std::vector<double> bores_m;
    double s = 0.0, z = draw(20, 60);
    for (int k = 0; k < 8; ++k) {
      points.emplace_back(s, z);
      bores_m.push_back(draw(0.02, 0.2));
      s += draw(1, 50);
      z -= i % 2 == 0 ? draw(0.0, 5.0) : draw(-0.5, 5.0);  // every second leg has small rises
    }
    bores_m.pop_back();  // nothing begins at the last point
    const air::Profile p = air::profile_of(points, bores_m);
    double low = p.points[0].elevation_m;
    for (const auto& [station_m, elevation_m] : points) low = std::min(low, elevation_m);
    const air::LegAir leg(p, 0, 7, low);
    const double ha = draw(5, 10.4), column = low + draw(0.0, 80.0);
    const auto a = leg.under_column(ha, column);
    const auto b = leg.under_gauge(ha, a.gauge_head_m);
    REQUIRE(b.interface_m == Approx(a.interface_m).epsilon(0.0).margin(1e-8));
    REQUIRE(a.gauge_head_m == Approx(column - a.interface_m).epsilon(1e-12).margin(1e-12));
    REQUIRE((ha + a.gauge_head_m) * a.volume_m3 == Approx(ha * leg.start_volume_m3()).epsilon(1e-11));
    REQUIRE(leg.volume_above_m3(a.interface_m) <= a.volume_m3 * (1 + 1e-9));
    REQUIRE(leg.volume_from_m3(a.interface_m) >= a.volume_m3 * (1 - 1e-9));
  }
}
