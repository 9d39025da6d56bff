#pragma once
// What lies between the soil and the water in the pipe, judged from outside inward: the first stone or cloth
// against the soil, each further layer against the one before it, the holes of the pipe against the last. A
// chain fails at its weakest link, and that link shows what to change.
#include <cstddef>
#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "runnel/works/filter_rules.h"

namespace runnel::works {

/// A filter cloth (geotextile).
struct Cloth {
  Length opening;                         ///< largest opening, O95
  std::optional<double> permittivity_ps;  ///< flow through it per area and per head [1/s]
  std::optional<Velocity> conductivity;   ///< perpendicular to the cloth
};

using Layer = std::variant<GradingBand, Cloth>;

enum class OpeningShape { hole, slot };

struct PipeOpening {
  OpeningShape shape = OpeningShape::hole;
  Length size;           ///< bore of a hole, width of a slot
  bool surging = false;  ///< water that surges to and fro works grains loose
};

/// Cloth on soil: largest opening and least permittivity by the percent under 0.075 mm [aashto-m288], as
/// quoted in a guide specification; below 50 % of such fines D85 over the opening, above it an opening
/// between sieves 100 and 70, and over 85 % no cloth alone [corps-shore]; ten times the conductivity of the
/// soil, where both are known, and the opening by the uniformity of the soil [cloth-maker-note].
std::vector<Judgement> judge_cloth(const GradingBand& soil, const Cloth& cloth,
                                   std::optional<Velocity> soil_conductivity = std::nullopt);

/// Stone at an opening: its D85 over a hole at least 1.0 to 1.2, over a slot 1.2 to 1.4 [corps-shore]; with
/// surging its D15 must not be smaller than the opening, from memory [nrcs-633-26].
std::vector<Judgement> judge_opening(const GradingBand& stone, const PipeOpening& opening);

struct LayerJudgement {
  /// The layer that was judged, counted from the soil; the number of layers for the pipe.
  std::size_t layer = 0;
  Judgement judgement;
};

/// Judges the whole chain. Stone inside a cloth has only the cloth to hold back, so it is judged as stone
/// alone; a pipe directly inside a cloth needs no rule; a pipe without any layer is judged against the soil.
std::vector<LayerJudgement> judge_layers(const Soil& soil, std::span<const Layer> layers,
                                         const std::optional<PipeOpening>& opening, FilterEdition edition);

}  // namespace runnel::works
