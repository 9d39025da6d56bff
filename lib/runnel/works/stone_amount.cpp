#include "runnel/works/stone_amount.h"

#include <algorithm>

#include "runnel/base/constants.h"

namespace runnel::works {

namespace {

StoneAmount amount(double volume_m3, double bulk_kgm3, double extra) {
  const double ordered_m3 = std::max(0.0, volume_m3) * (1.0 + extra);
  return {Volume::cubic_metres(ordered_m3), ordered_m3 * bulk_kgm3};
}

}  // namespace

StoneAmount layer_amount(Length length, Length width, Length thickness, double bulk_kgm3, double extra) {
  return amount(length.metres() * width.metres() * thickness.metres(), bulk_kgm3, extra);
}

StoneAmount surround_amount(Length length, Length width, Length height, Length outside_diameter,
                            double bulk_kgm3, double extra) {
  const double diameter_m = outside_diameter.metres();
  const double face_m2 = width.metres() * height.metres() - 0.25 * pi * diameter_m * diameter_m;
  return amount(length.metres() * face_m2, bulk_kgm3, extra);
}

double bulk_density_kgm3(double grain_kgm3, double void_share) { return grain_kgm3 * (1.0 - void_share); }

}  // namespace runnel::works
