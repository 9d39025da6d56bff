#pragma once
// Fresh water between 0 and 40 degrees Celsius at atmospheric pressure, and the air above it.
#include "runnel/units/quantity.h"

namespace runnel::water {

/// Where the formulas hold: water in degrees Celsius, altitudes in metres (the lowest layer of
/// [us-standard-atmosphere-1976]; no land is lower).
inline constexpr double coldest_c = 0.0, warmest_c = 40.0;
inline constexpr double lowest_m = -500.0, highest_m = 11000.0;

/// The properties of water that every answer states.
struct Water {
  double temperature_c = 10.0;
  double density_kgm3 = 0.0;
  double kinematic_viscosity_m2s = 0.0;
  double vapour_pressure_pa = 0.0;  ///< absolute
  double bulk_modulus_pa = 0.0;     ///< isothermal
};

// The four formulas do not check their range; `at` does. Errors are relative, against the reference
// values named.

/// Density [kg/m3], 0-40 C. Source: [tanaka2001]; error <= 1.2e-6 against [iapws95].
double density_kgm3(double temperature_c);
/// Dynamic viscosity [Pa s], 0-40 C. Source: [iapws-sr6-08] at 0.1 MPa; error <= 3e-5 against [iapws-r12-08].
double dynamic_viscosity_pas(double temperature_c);
/// Vapour pressure [Pa absolute], 0-40 C. Source: [buck1996]; error <= 0.05 % against
/// [wagner-pruss1993].
double vapour_pressure_pa(double temperature_c);
/// Isothermal bulk modulus [Pa], 0-40 C; own fit to [iapws95], error <= 7.4e-5.
double bulk_modulus_pa(double temperature_c);
/// All of them at once, at atmospheric pressure. Precondition coldest_c <= t <= warmest_c; throws
/// std::invalid_argument outside.
Water at(Temperature temperature);

/// Mean absolute air pressure [Pa] at a geopotential altitude; weather moves it by 1-3 %. Source:
/// [us-standard-atmosphere-1976]. Precondition lowest_m <= altitude <= highest_m; throws
/// std::invalid_argument outside.
double air_pressure_pa(Length altitude);

}  // namespace runnel::water
