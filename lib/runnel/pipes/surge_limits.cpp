#include "runnel/pipes/surge_limits.h"

#include <algorithm>

#include "runnel/base/constants.h"
#include "runnel/pipes/surge.h"

namespace runnel::pipes {
namespace {

constexpr double sea_level_pa = 101325.0;  // [us-standard-atmosphere-1976]

constexpr SurgeRule rules[] = {
    {"PE, American", "PE", 1.5, 2.0, std::nullopt, Velocity{}, false, Certainty::from_memory,
     "AWWA C901, C906, M55 [awwa-pe]"},
    {"PE, British water industry", "PE", std::nullopt, std::nullopt, std::nullopt, Velocity{}, true,
     Certainty::found, "no derating for cycles if the material is tough [ign-4-37-02]"},
    {"PVC, British code of practice", "PVC", 1.0, 1.0, 0.5, Velocity{}, false, Certainty::secondary,
     "CP 312 [cp-312]"},
    {"PVC, American before 2007", "PVC", 1.0, 1.0, std::nullopt, Velocity::feet_per_second(2.0), false,
     Certainty::found, "the class holds the surge of a 2 ft/s stop [awwa-c900-old]"},
    {"PVC, American from 2007", "PVC", 1.0, 1.6, std::nullopt, Velocity{}, false, Certainty::from_memory,
     "AWWA C900-07 [awwa-c900-07]"},
    {"PEX, a maker", "PEX", 2.5, 2.5, std::nullopt, Velocity{}, false, Certainty::found, "[pex-maker]"}};

}  // namespace

std::span<const SurgeRule> surge_rules() { return rules; }

const SurgeRule* surge_rule(std::string_view name) {
  const auto* found = std::ranges::find(rules, name, &SurgeRule::name);
  return found == std::end(rules) ? nullptr : found;
}

std::optional<Pressure> most_total_pressure(const SurgeRule& rule, SurgeKind kind, Pressure rating,
                                            Velocity wave, double density_kgm3) {
  const auto& share = kind == SurgeKind::recurring ? rule.recurring_share : rule.occasional_share;
  if (!share) return std::nullopt;
  return rating * *share + joukowsky_pressure(wave, rule.included_stop, density_kgm3);
}

std::optional<Pressure> most_swing(const SurgeRule& rule, Pressure rating) {
  if (!rule.swing_share) return std::nullopt;
  return rating * *rule.swing_share;
}

Length lowest_surge_head(double air_pressure_pa, double density_kgm3) {
  const double thinner_m = (sea_level_pa - air_pressure_pa) / (density_kgm3 * gravity_ms2);
  return Length::metres(lowest_head_at_sea_level_m + thinner_m);
}

Pressure steel_collapse_pressure(Length wall, Length diameter) {
  const double ratio = wall / diameter;
  return Pressure::psi(16250000.0 * ratio * ratio * ratio / 4.0);
}

}  // namespace runnel::pipes
