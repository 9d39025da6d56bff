// Water that the model describes itself, unlike water of its temperature.
#include <cmath>

#include "runnel/units/quantity.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"
#include "runnel/water/water.h"

namespace runnel::verdict {
namespace {

constexpr Code unlike_water_rule{
    "water-unlike-water",
    "constants of the water that water does not have",
    "The model sets the density, the viscosity or the vapour pressure itself, and farther from those of "
    "fresh "
    "water of its temperature than salts and measurement explain.",
    "Light water presses less on a pipe, thin water runs faster, and water that does not boil holds together "
    "over any crest: the answer rests on it.",
    "Leave them out: they follow from the temperature.",
    "density [tanaka2001], viscosity [iapws-sr6-08], vapour pressure [buck1996]; how far they may differ: "
    "common practice, no source",
    Filling::follows};

// Shares by which a constant may differ from that of fresh water; common practice, no source.
constexpr double of_density = 0.005, of_viscosity = 0.05, of_vapour = 0.05;

struct Constant {
  const char* name;
  double written, of_water, may_differ;
};

Finding unlike(const Constant& constant, double temperature_c) {
  Draft d(unlike_water_rule, Severity::warning);
  const double share = constant.written / constant.of_water;
  d.message.say("The model sets the ").say(constant.name).say(" of the water itself, to ");
  d.message.figure(Kind::percent, share)
      .say(" of that of water at ")
      .figure(Kind::temperature, temperature_c);
  d.message.say(".");
  d.advice.say("Leave the ").say(constant.name).say(" of the water out: it follows from the temperature.");
  d.against({Kind::percent, share}, {Kind::percent, 1.0});
  return d.done();
}

}  // namespace

void water_unlike_water(const Case& c, Findings& out) {
  const water::Water& written = c.system.site().water;
  const water::Water water = water::at(Temperature::celsius(written.temperature_c));
  const Constant constants[] = {
      {"density", written.density_kgm3, water.density_kgm3, of_density},
      {"viscosity", written.kinematic_viscosity_m2s, water.kinematic_viscosity_m2s, of_viscosity},
      {"vapour pressure", written.vapour_pressure_pa, water.vapour_pressure_pa, of_vapour}};
  for (const Constant& constant : constants)
    if (std::abs(constant.written - constant.of_water) > constant.may_differ * constant.of_water)
      out.push_back(unlike(constant, written.temperature_c));
}

std::vector<Code> own_water_codes() { return {unlike_water_rule}; }

}  // namespace runnel::verdict
