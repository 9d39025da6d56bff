#include "runnel/network/validate.h"

#include <cmath>

#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

bool within(Complaints& complaints, const Mark& mark, std::string_view member, const char* code, Figure value,
            double low, double high, const std::string& what) {
  if (value.si >= low && value.si <= high) return true;
  complaints.error(code, mark, member, what + " is {0}; it must lie between {1} and {2}",
                   {value, {value.kind, low}, {value.kind, high}});
  return false;
}

}  // namespace

void validate_site(const Model& system, Complaints& complaints) {
  const Mark& mark = system_mark();
  if (!complaints.whole(mark)) return;
  const Site& site = system.site;
  const water::Water& water = site.water;
  // Air pressure is known down to 500 m below the sea; the deepest open shore, of the Dead Sea, is some 430 m
  // below it [from memory].
  if (site.altitude.metres() < water::lowest_m)
    complaints.error("absurd-elevation", mark, "site.altitude",
                     "the altitude of the site is {0}; no ground is that high or that low",
                     {{Kind::elevation, site.altitude.metres()}},
                     "check the unit: feet and metres are easily swapped");
  else
    complaints.on_earth(mark, "site.altitude", site.altitude, "the altitude of the site");
  // The formulas of runnel/water hold from 0 to 40 degC.
  within(complaints, mark, "site.water", "temperature-out-of-range", {Kind::temperature, water.temperature_c},
         0.0, 40.0, "the temperature of the water");
  // From the top of the highest mountain (about 31 kPa) to the shore of the Dead Sea (about 107 kPa)
  // [us-standard-atmosphere-1976]: beyond that a unit is wrong or a gauge pressure was meant.
  const bool air = within(complaints, mark, "site.air_pressure", "air-pressure-out-of-range",
                          {Kind::pressure, site.air_pressure_pa}, 28e3, 110e3, "the air pressure (absolute)");
  // Fresh water of 0-40 degC has 992-1000 kg/m3 and 0.66e-6 to 1.8e-6 m2/s; the bounds leave room for brine
  // and silt and still catch a slipped power of ten. Nothing makes water less viscous.
  if (!(water.density_kgm3 >= 900.0 && water.density_kgm3 <= 1300.0))
    complaints.error("density-out-of-range", mark, "site.water.density",
                     "water with {0} kg/m3 is not water; fresh water has about 1000 kg/m3",
                     {{Kind::number, water.density_kgm3}});
  if (!(water.kinematic_viscosity_m2s >= 6e-7 && water.kinematic_viscosity_m2s <= 1e-4))
    complaints.error("viscosity-out-of-range", mark, "site.water.kinematic_viscosity",
                     "a kinematic viscosity of {0} mm2/s is not that of water, which has 0.6 to 1.8 mm2/s",
                     {{Kind::number, water.kinematic_viscosity_m2s * 1e6}});
  if (air && !(water.vapour_pressure_pa >= 0.0 && water.vapour_pressure_pa < 0.5 * site.air_pressure_pa))
    complaints.error("vapour-pressure-out-of-range", mark, "site.water.vapour_pressure",
                     "a vapour pressure of {0} cannot be: cold water has less than a tenth of the air's {1}",
                     {{Kind::pressure, water.vapour_pressure_pa}, {Kind::pressure, site.air_pressure_pa}});
  // Hazen-Williams has 10.67 in SI; the verdict reports constants that are in no book.
  complaints.positive(mark, "friction.k", {Kind::number, system.friction.k},
                      "the factor k of the friction law", {1e-6, 1e6});
  within(complaints, mark, "friction.n", "exponent-out-of-range", {Kind::number, system.friction.n}, 1.0, 2.5,
         "the exponent n of the friction law");
  within(complaints, mark, "friction.m", "exponent-out-of-range", {Kind::number, system.friction.m}, 3.0, 6.0,
         "the exponent m of the friction law");
}

const Mark& system_mark() {
  static const Mark mark{"", 1, 1, 1};
  return mark;
}

std::vector<Finding> validate(const Model& system, const Origin& origin) {
  Complaints complaints(origin);
  const NameIndex index(system);
  validate_site(system, complaints);
  validate_names(system, index, complaints);
  validate_places(system, complaints);
  validate_tanks(system, index, complaints);
  validate_lines(system, complaints);
  validate_joins(system, index, complaints);
  validate_settings(system, index, complaints);
  validate_asks(system, index, complaints);
  validate_year(system, index, complaints);
  validate_collections(system, index, complaints);
  return complaints.take();
}

}  // namespace runnel::network
