#pragma once
// What stands between the soil and the water in the pipe, judged from outside inward: the first stone or
// cloth against the soil, each next one against the layer before it, the holes of the pipe against the
// last. A chain fails at its worst link, and which link that is says what to change.
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
  std::optional<double> permittivity_ps;  ///< flow through it per area and head [1/s]
  std::optional<Velocity> conductivity;   ///< across the cloth
};

using Layer = std::variant<GradingBand, Cloth>;

enum class OpeningShape { hole, slot };

struct PipeOpening {
  OpeningShape shape = OpeningShape::hole;
  Length size;           ///< bore of a hole, width of a slot
  bool surging = false;  ///< water that flows to and fro works grains loose
};

/// Cloth on soil: largest opening and least permittivity by the percent under 0.075 mm [aashto-m288], as
/// quoted in a guide specification; D85 over the opening under 50 % fines, else an opening between
/// the sieves 100 and 70, and no cloth alone over 85 % [corps-shore]; ten times the soil's conductivity,
/// where both are known, and the
/// opening by how even the soil is [cloth-maker-note].
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

/// All of it. Stone behind a cloth has nothing to hold back but the cloth, so it is judged as stone alone;
/// a pipe straight behind a cloth needs no rule; a pipe without any layer is judged against the soil.
std::vector<LayerJudgement> judge_layers(const Soil& soil, std::span<const Layer> layers,
                                         const std::optional<PipeOpening>& opening, FilterEdition edition);

}  // namespace runnel::works
