#pragma once
// Stone against soil. Water that leaves a soil takes its grains along unless the next layer's pores are finer
// than the soil's coarse grains, because once caught those hold back the rest: D15 of the filter, which is
// about five times its pores, against D85 of the soil (retention). But a filter as fine as the soil drains no
// better, and then water backs up behind it: D15 of the filter must be well above D15 of the soil
// (permeability; conductivity goes with D15 squared, so four times the size passes sixteen times the water).
// Retention is judged for the finest soil and the coarsest filter, permeability for the coarsest soil and the
// finest filter [filter-evaluation]. Editions differ, so answers say which was used.
//
// The four classes of soil that the NRCS, the Corps and Reclamation use [nrcs-633-26], on the part of the
// soil that passes the No. 4 sieve; A is the percent of it under 0.075 mm, d85 its D85:
//   1  A > 85       D15 of the filter at most 9 d85, but 0.2 mm is always fine enough
//   2  A 40 to 85   at most 0.7 mm
//   3  A 15 to 39   (40 - A)/25 (4 d85 - 0.7 mm) + 0.7 mm, 4 d85 taken as 0.7 mm if it is less
//   4  A < 15       at most 4 d85
// Limits of 1 and 4 secondary, bands and the limits of 2 and 3 from memory.
#include <optional>
#include <vector>

#include "runnel/works/grading.h"
#include "runnel/works/judgement.h"

namespace runnel::works {

enum class FilterEdition {
  earth_manual_1960,  ///< Terzaghi's: D15F/D85B under 4 to 5, D15F/D15B over 4 to 5 and 5 to 40
                      ///< [usbr-earth-manual]
  river_manual,       ///< three ratios, D15F/D85B, D15F/D15B, D50F/D50B [fhwa-river-manual]
  nrcs_1994,          ///< four classes; D15F at least 4 D15B, from memory [nrcs-633-26]
  nrcs_2017,          ///< four classes, 6.5 d85 for dispersive clay; at least 5 D15B [nrcs-633-26]
  nrcs_band,          ///< four classes; D15F at least a fifth of the most allowed, as an article quotes it
  corps_2005,         ///< four classes; at least 3 to 5 D15B [corps-em-1901]
  reclamation_2011,   ///< four classes; at least 5 D15B [filter-evaluation]
};

struct Soil {
  GradingBand grading;
  bool dispersive = false;  ///< clay that clouds still water, because its grains do not stick together
};

/// The greatest D15 of a filter that still holds this soil, by the four classes; `edition` matters for
/// dispersive soil only. None if the curve lacks the sizes needed.
std::optional<Length> greatest_filter_d15(const GradingCurve& finest, bool dispersive, FilterEdition edition);

/// All rules of the edition for one filter on one soil (or on the finer stone before it).
std::vector<Judgement> judge_filter(const Soil& base, const GradingBand& filter, FilterEdition edition);

/// What stone must satisfy whatever it lies on: at most 75 mm, at most 5 % under 0.075 mm, and a D90 that D10
/// allows, so that it does not segregate: 20, 25, 30, 40, 50, 60 mm for D10 under 0.5, 1, 2, 5, 10 mm and
/// above; from memory [nrcs-633-26].
std::vector<Judgement> judge_stone(const GradingBand& stone);

/// Bounds on one size of a filter to be found; none where a side is free.
struct SizeBounds {
  std::optional<Length> least, most;
};

struct FilterBounds {
  SizeBounds d15, d50, d85;
};

/// What the three ratios of [fhwa-river-manual] require of a filter on `base` and under `cover`, both given
/// by D15, D50 and D85. Each bound lies exactly at its ratio; nothing fits where least exceeds most.
FilterBounds filter_between(const GradingCurve& base, const GradingCurve& cover);

}  // namespace runnel::works
