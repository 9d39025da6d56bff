#include "runnel/works/chlorine.h"

#include <catch2/catch.hpp>
#include <stdexcept>

#include "runnel/base/bibliography.h"

using namespace runnel;
using namespace runnel::works;

namespace {

constexpr Volume quart = Volume::gallons(0.25), cup = Volume::gallons(1.0 / 16),
                 ounce = Volume::gallons(1.0 / 128);
constexpr double ounce_kg = 0.028349523125;  // exact

}  // namespace

TEST_CASE("published recipes make the doses that are worked out from them") {
  // [virginia-356-487]: 1.5 qt of bleach (5.25 %) per 100 gal; no dose printed, 197 mg/L computed.
  CHECK(dose_of_liquid(1.5 * quart, 5.25, Volume::gallons(100)) == Approx(197).margin(0.5));
  // [oregon-health]: 1 cup of 8.25 % per 100 gal, "about 50"; 1.5 oz in 5 gal "to approach 200".
  CHECK(dose_of_liquid(cup, 8.25, Volume::gallons(100)) == Approx(50).margin(2));
  CHECK(dose_of_liquid(cup, 8.25, Volume::gallons(100)) == Approx(51.6).margin(0.05));
  CHECK(dose_of_liquid(1.5 * ounce, 8.25, Volume::gallons(5)) == Approx(200).margin(7));
  CHECK(dose_of_liquid(1.5 * ounce, 8.25, Volume::gallons(5)) == Approx(193).margin(0.5));
  // [mil-hdbk-1164], "100 mg/L" from either: the powder does, the liquid overdoses by a third.
  CHECK(dose_of_powder(2 * ounce_kg, 65, Volume::gallons(100)) == Approx(97.4).margin(0.05));
  CHECK(dose_of_liquid(quart, 5.25, Volume::gallons(100)) == Approx(131).margin(0.5));
}

TEST_CASE("amounts for a cubic metre and for a line") {
  const auto millilitres = [](double dose, double litres, double percent) {
    return chlorine_for(dose, Volume::litres(litres), Product::liquid, percent).liquid.litres() * 1e3;
  };
  CHECK(millilitres(50, 1000, 5.25) == Approx(952).margin(0.5));
  CHECK(millilitres(50, 1000, 8.25) == Approx(606).margin(0.5));
  CHECK(millilitres(200, 1000, 8.25) == Approx(2424).margin(0.5));
  // 100 m of 63 mm SDR 11 (bore 51.4 mm) holds 207 L and takes 198 mL of 5.25 % for 50 mg/L; computed.
  const Volume line = volume_of_line(Length::millimetres(51.4), Length::metres(100));
  CHECK(line.litres() == Approx(207).margin(0.51));
  CHECK(millilitres(50, line.litres(), 5.25) == Approx(198).margin(0.5));
  const ChlorineAmount powder = chlorine_for(100, Volume::gallons(100), Product::powder, 65);
  CHECK(dose_of_powder(powder.powder_kg, 65, Volume::gallons(100)) == Approx(100).epsilon(1e-13));
  CHECK_THROWS_AS(chlorine_for(50, Volume::litres(10), Product::liquid, 0.0), std::invalid_argument);
}

TEST_CASE("every published dose names its source") {
  for (const PublishedDose& dose : published_doses()) {
    CHECK(dose.dose_mgl >= 25.0);
    CHECK(dose.dose_mgl <= 200.0);
    CHECK(base::find_reference(dose.source) != nullptr);
  }
}
