#pragma once
// What pressure a pipe may bear for a moment. The rules for PE and PVC differ, and those for PVC by edition:
// "PVC never above its rating" holds for some, not for others. All are data here, each with its certainty, so
// that an answer can name the one it applies.
#include <optional>
#include <span>
#include <string_view>

#include "runnel/pipes/pipe.h"
#include "runnel/units/quantity.h"

namespace runnel::pipes {

/// How often a surge comes: with every use of a tap or a float, or with a mishap.
enum class SurgeKind { recurring, occasional };

/// One rule. Shares are of the pipe's rating; total means static pressure and surge together.
struct SurgeRule {
  std::string_view name, material;  ///< material: what it is for, "PE", "PVC" or "PEX"
  std::optional<double> recurring_share, occasional_share;  ///< most total pressure; none: not stated
  std::optional<double> swing_share;  ///< most difference between highest and lowest pressure
  /// The rating already allows for the surge of stopping this velocity, so that surge may come on top of it.
  Velocity included_stop;
  bool checks_collapse = false;  ///< the rule asks to check the pipe against collapse by suction
  Certainty certainty = Certainty::from_memory;
  std::string_view source;
};

std::span<const SurgeRule> surge_rules();
/// The rule of that name, or nullptr.
const SurgeRule* surge_rule(std::string_view name);

/// Most total pressure by a rule; none if the rule states none. `wave` matters only to rules that include a
/// stop.
std::optional<Pressure> most_total_pressure(const SurgeRule& rule, SurgeKind kind, Pressure rating,
                                            Velocity wave, double density_kgm3);
/// Most swing between highest and lowest pressure by a rule; none if it states none.
std::optional<Pressure> most_swing(const SurgeRule& rule, Pressure rating);

/// Keep the lowest pressure head above this at sea level, or the water column parts and slams together again;
/// practice, from memory.
inline constexpr double lowest_head_at_sea_level_m = -7.0;
/// The same under thinner air, at the same absolute pressure [own]. Air pressure absolute.
Length lowest_surge_head(double air_pressure_pa, double density_kgm3);

/// Suction that a steel pipe withstands: 16 250 000 (T/D)^3 psi crushes it, divided by the factor of safety
/// of 4 that the source asks for [valve-notes].
Pressure steel_collapse_pressure(Length wall, Length diameter);

}  // namespace runnel::pipes
