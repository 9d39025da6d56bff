#pragma once
// Fresh water between 0 and 40 degrees Celsius at atmospheric pressure, and the air above it.
#include "runnel/units/quantity.h"

namespace runnel::water {

/// The properties every answer states that it used.
struct Water {
  double temperature_c = 10.0;
  double density_kgm3 = 0.0;
  double kinematic_viscosity_m2s = 0.0;
  double vapour_pressure_pa = 0.0;   ///< absolute
  double bulk_modulus_pa = 0.0;      ///< isothermal
};

/// Density [kg/m3], 0-40 C. Source: [tanaka2001]; error <= 1.2e-6 against IAPWS-95.
double density_kgm3(double temperature_c);
/// Dynamic viscosity [Pa s], 0-40 C. Source: [iapws-sr6-08] at 0.1 MPa; error <= 3e-5.
double dynamic_viscosity_pas(double temperature_c);
/// Vapour pressure [Pa absolute], 0-40 C. Source: [buck1996]; error <= 0.05 %.
double vapour_pressure_pa(double temperature_c);
/// Isothermal bulk modulus [Pa], 0-40 C; own fit to IAPWS-95, error <= 7.3e-5.
double bulk_modulus_pa(double temperature_c);
/// All of them at once. Precondition 0 <= t <= 40; throws std::invalid_argument outside.
Water at(Temperature temperature);

/// Mean absolute air pressure [Pa] at a geopotential altitude. Source: [us-standard-atmosphere-1976].
double air_pressure_pa(Length altitude);

}  // namespace runnel::water
