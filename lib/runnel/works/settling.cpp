#include "runnel/works/settling.h"

#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/base/roots.h"

namespace runnel::works {

namespace {

constexpr double smallest_m = 1e-8, largest_m = 0.1;  // finer than any clay, coarser than gravel

/// The laws in metres and seconds; `pull` is R g.
double velocity_ms(SettlingLaw law, double d, double pull, double viscosity, double c2) {
  switch (law) {
    case SettlingLaw::stokes:
      return pull * d * d / (18.0 * viscosity);
    case SettlingLaw::ferguson_church:
      return pull * d * d / (18.0 * viscosity + std::sqrt(0.75 * c2 * pull * d * d * d));
    case SettlingLaw::rubey: {
      // sqrt(2/3 R g d + (6 nu/d)^2) - 6 nu/d, written without the difference of two near numbers.
      const double drag = 6.0 * viscosity / d, square = 2.0 / 3.0 * pull * d;
      return square / (std::sqrt(square + drag * drag) + drag);
    }
  }
  return 0.0;
}

double pull_of(const water::Water& water, const Grain& grain) {
  return gravity_ms2 * (grain.density_kgm3 / water.density_kgm3 - 1.0);
}

}  // namespace

Velocity settling_velocity(SettlingLaw law, Length size, const water::Water& water, const Grain& grain) {
  if (!(size.si() > 0.0)) return {};
  return Velocity::metres_per_second(
      velocity_ms(law, size.metres(), pull_of(water, grain), water.kinematic_viscosity_m2s, grain.c2));
}

double grain_reynolds(Length size, Velocity settling, const water::Water& water) {
  return size.metres() * settling.metres_per_second() / water.kinematic_viscosity_m2s;
}

std::optional<Length> size_that_settles(SettlingLaw law, Velocity settling, const water::Water& water,
                                        const Grain& grain) {
  const double pull = pull_of(water, grain), asked = settling.metres_per_second();
  // All three laws rise with the size, about as a power of it, so the root is sought in logarithms.
  const auto excess = [&](double log_d) {
    return std::log(velocity_ms(law, std::exp(log_d), pull, water.kinematic_viscosity_m2s, grain.c2) / asked);
  };
  if (!(pull > 0.0 && asked > 0.0)) return std::nullopt;
  const double low = std::log(smallest_m), high = std::log(largest_m);
  if (excess(low) > 0.0 || excess(high) < 0.0) return std::nullopt;
  return Length::metres(std::exp(bracketed_root(excess, low, high)));
}

SettlingAnswer settle(const Basin& basin, Flow flow, const water::Water& water, const Grain& grain,
                      SettlingLaw law) {
  const double area_m2 = basin.length.metres() * basin.width.metres();
  SettlingAnswer answer;
  answer.surface_load = Velocity::metres_per_second(flow.cubic_metres_per_second() / area_m2);
  answer.stay = Duration::seconds(area_m2 * basin.depth.metres() / flow.cubic_metres_per_second());
  answer.kept_by_stokes = size_that_settles(SettlingLaw::stokes, answer.surface_load, water, grain);
  answer.kept = size_that_settles(law, answer.surface_load, water, grain);
  answer.stokes_holds = answer.kept_by_stokes && grain_reynolds(*answer.kept_by_stokes, answer.surface_load,
                                                                water) <= greatest_stokes_reynolds;
  return answer;
}

double basin_area_m2(Flow flow, Length size, const water::Water& water, const Grain& grain, SettlingLaw law) {
  return flow.cubic_metres_per_second() / settling_velocity(law, size, water, grain).metres_per_second();
}

bool strainer_meets_box(Length opening, const SettlingAnswer& box) {
  return box.kept && opening <= *box.kept;
}

}  // namespace runnel::works
