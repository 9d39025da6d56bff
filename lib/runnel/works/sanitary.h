#pragma once
// How far a spring should lie from what fouls it. Water runs downhill below the ground as above it, so what
// lies uphill matters most. The figures are those of published rules; each country has its own, and in
// fissured rock none of them is enough. A caution, never a clearance.
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "runnel/units/quantity.h"
#include "runnel/works/judgement.h"

namespace runnel::works {

/// What a distance is kept from, or what it is the size of.
enum class Keeps {
  clear_uphill,  ///< ground to be kept clear above the spring, or up to the crest
  clear_sideways,
  clear_downhill,
  sewer,  ///< where no tight layer protects the spring
  sewer_protected,
  manure,
  stock,
  latrine,
  privy_uphill,  ///< privies, septic tanks and stock above the spring
  fence_radius,
  ditch_outfall,  ///< from the spring to where the diversion ditch lets its water go
};

struct PublishedDistance {
  Keeps what = Keeps::clear_uphill;
  Length least;   ///< the least figure in print by this source
  Length better;  ///< where it prints a span, its other end; else the same
  std::string_view source;
};

std::span<const PublishedDistance> published_distances();

/// A distance held against every published figure for it, in the order of the table: a span leaves what lies
/// within it undecided. An unknown distance cannot be judged.
struct DistanceJudgement {
  Verdict verdict = Verdict::cannot_be_judged;
  PublishedDistance published;
};
std::vector<DistanceJudgement> judge_distance(Keeps what, std::optional<Length> distance);

}  // namespace runnel::works
