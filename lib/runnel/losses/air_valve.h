#pragma once
// What an air valve or a vent hole lets through while a line fills or drains: a round hole in isentropic flow
// of air. Flows are of free air, at the pressure and temperature of the site, so that they compare with the
// flow of the water that takes the place of the air or makes room for it.

namespace runnel::losses {

/// The air around the valve.
struct SiteAir {
  double pressure_pa = 101325.0;  ///< absolute
  double temperature_c = 15.6;    ///< 60 F, as in the tables of the trade
};

inline constexpr double air_valve_cd = 0.7;  ///< of the hole [awwa-m51]

/// Filling: air leaves as fast as water enters, with at most 2 psi inside [valve-notes].
inline constexpr double most_filling_pressure_pa = 13789.514586336724;
/// Draining: air enters as fast as water leaves, under at most 5 psi of suction [valve-notes].
inline constexpr double most_draining_suction_pa = 34473.78646584181;

/// Free air through a hole of a bore from one absolute pressure to a lower one, Cd A p1 sqrt(2 g/(g-1) ...),
/// no faster than sound: below 0.528 of the pressure above, the pressure below no longer counts. Zero if
/// from <= to. Both pressures must be above zero. Universal textbook matter, from memory [isentropic-flow].
double free_air_flow_m3s(double bore_m, double from_pa, double to_pa, const SiteAir& air,
                         double cd = air_valve_cd);

/// Free air out of a line with a gauge pressure inside, and into one with a suction inside. A suction beyond
/// the whole air pressure counts as that pressure.
double air_out_m3s(double bore_m, double gauge_pa, const SiteAir& air, double cd = air_valve_cd);
double air_in_m3s(double bore_m, double suction_pa, const SiteAir& air, double cd = air_valve_cd);

/// The bore of hole that a filling or a draining flow needs at the limits above.
double filling_vent_bore_m(double water_flow_m3s, const SiteAir& air, double cd = air_valve_cd);
double draining_vent_bore_m(double water_flow_m3s, const SiteAir& air, double cd = air_valve_cd);

/// Flow of a full pipe that drains down its own slope, Q = 0.0007872 C sqrt(S D^5) in ft3/s and inches with
/// Chezy's C [valve-notes]: A C sqrt(S D/4). Slope 0 .. 1, fall over length.
double draining_flow_m3s(double bore_m, double slope, double chezy_c = 110.0);

}  // namespace runnel::losses
