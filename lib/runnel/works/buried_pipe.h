#pragma once
// What the ground does to a pipe and the pipe to the ground: frost from above, change of length with
// temperature, thrust at a bend, and uplift in a wet trench.
#include <optional>

#include "runnel/units/quantity.h"

namespace runnel::works {

// --- Frost ---

struct FrozenGround {
  double conductivity_wmk = 2.0;   ///< of frozen ground [W/(m K)]
  double water_share = 0.15;       ///< share of the dry weight
  double dry_density_kgm3 = 1700;  ///< of the ground
};

/// Heat that water gives up as it freezes [J/kg]; textbook matter, from memory.
inline constexpr double freezing_heat_jkg = 334000.0;

/// Stefan's depth X = sqrt(2 k F 86400 / L), F the frost of a winter in degree-days below freezing, L the
/// heat of freezing of a cubic metre of ground [stefan1891]. It ignores the warmth of the ground and any
/// snow, and so is an upper bound.
Length frost_depth(double frost_degree_days, const FrozenGround& ground = {});

/// Cover of an outside water pipe: 6 in below the frost line, and at least 12 in [plumbing-code-frost].
Length least_cover(Length frost_line);

// --- Warmth ---

/// Expansion per metre and kelvin. Polyethylene: makers print 0.15, 0.162, 0.18, and 0.21 mm is quoted. PVC:
/// 0.056 printed, 0.050 and 0.061 quoted, 0.08 in Europe (from memory) [pipe-expansion].
struct ExpansionRange {
  double low_per_k = 0.0, high_per_k = 0.0;
};
inline constexpr ExpansionRange polyethylene_expansion{0.15e-3, 0.21e-3};
inline constexpr ExpansionRange pvc_expansion{0.056e-3, 0.08e-3};

struct LengthRange {
  Length low, high;
};

/// Change of length of a free pipe; a buried one is held, and is strained instead.
LengthRange expansion(Length length, double kelvin, const ExpansionRange& material);

// --- Thrust ---

/// Thrust on a bend, 2 P A sin(angle/2), in newtons. A is by the OUTSIDE diameter, because the water presses
/// on the whole face of the joint [awwa-m23].
double bend_thrust_n(Pressure pressure, Length outside_diameter, double angle_degrees);
/// Thrust on a dead end or a shut valve, P A.
double end_thrust_n(Pressure pressure, Length outside_diameter);
/// Area of a block against the ground, in square metres: thrust times the safety factor, over the bearing
/// pressure that the ground may take.
double thrust_block_m2(double thrust_n, Pressure bearing, double safety_factor);

// --- Lift ---

/// Lift of a metre of pipe in water, in kilograms per metre: what it displaces less what it weighs empty,
/// since an empty line is the one that floats. Negative if the pipe stays down.
double net_lift_kgm(Length outside_diameter, double pipe_kgm, double water_kgm3);

/// Cover of soil that holds an empty pipe down: the weight under water of the soil over the width of the
/// pipe, plus that of the pipe, is the safety factor times the water displaced. Zero if the pipe alone is
/// heavy enough.
Length cover_against_lift(Length outside_diameter, double pipe_kgm, double water_kgm3,
                          double submerged_soil_kgm3, double safety_factor);

}  // namespace runnel::works
