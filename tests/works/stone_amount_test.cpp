#include "runnel/works/stone_amount.h"

#include <catch2/catch.hpp>

using namespace runnel;
using namespace runnel::works;

TEST_CASE("stone is ordered by volume and weight") {
  const StoneAmount layer =
      layer_amount(Length::metres(4), Length::metres(1.5), Length::metres(0.2), 1600, 0.1);
  CHECK(layer.volume.cubic_metres() == Approx(1.32).epsilon(1e-13));
  CHECK(layer.mass_kg == Approx(2112).epsilon(1e-13));
  const StoneAmount around =
      surround_amount(Length::metres(10), Length::metres(0.5), Length::metres(0.4), Length::millimetres(110));
  CHECK(around.volume.cubic_metres() == Approx(10 * (0.2 - 0.00950332)).epsilon(1e-7));
  CHECK(around.mass_kg == Approx(1500 * around.volume.cubic_metres()).epsilon(1e-13));
  const Length narrow = Length::metres(0.1);
  CHECK(surround_amount(Length::metres(1), narrow, narrow, Length::metres(0.2)).mass_kg == 0.0);
  CHECK(bulk_density_kgm3(2650, 0.4) == Approx(1590).epsilon(1e-13));
}
