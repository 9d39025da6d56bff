#pragma once
// Usual mistakes in reckoning, each tried on the model itself: does it give the figure that is claimed?
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/figure.h"
#include "runnel/network/system.h"

namespace runnel::review {

/// A tank that is not full after so long counts as never full.
inline constexpr double longest_fill_s = 60.0 * 86400.0;

enum class ClaimKind { flow, pressure, static_pressure, full_after };

enum class ClaimReason {
  crest_passed_over,   ///< the head from end to end, as if no high point lay between
  nominal_for_bore,    ///< the nominal size taken for the bore
  smooth_hazen,        ///< Hazen-Williams with C = 150
  air_forgotten,       ///< the flow once all air is gone
  first_flow_held,     ///< the inflow of the first moment kept up until the tank is full
  running_for_static,  ///< the running pressure, given as the static pressure
  static_for_running,  ///< the static pressure, given as the running pressure
  endless_spring,      ///< what the pipe could carry, whatever the spring gives
  wet_season,          ///< the yield of the wettest time
  peak_left_out,       ///< this place drawing alone
  good_hour,           ///< a filling that begins at midnight, where it takes longer from another hour
};

/// In words that complete "the proposal ...": "took the nominal size of the pipe for its bore".
std::string_view reason_words(ClaimReason reason);

/// The figure a claim is about, SI.
struct ClaimedFigure {
  ClaimKind kind = ClaimKind::flow;
  std::string at;
};

/// What the line gives by plain reckoning: one steady state without air, or a run until the tank is full.
/// None where there is no such figure.
std::optional<double> reckoned(const network::Model& model, const ClaimedFigure& what);
/// How long a tank takes to fill from the hour of the day from which it takes longest [s], without air, from
/// its floor if it is drawn full; none where it is not full after `longest_fill_s`.
std::optional<double> slowest_filling(const network::Model& model, const std::string& tank);
/// The same as `reckoned`, in one wrong way; none where that makes no sense for the figure.
std::optional<double> reckoned_so(ClaimReason reason, const network::System& system,
                                  const ClaimedFigure& what);

struct FoundReason {
  ClaimReason reason = ClaimReason::crest_passed_over;
  double si = 0.0;  ///< what that way of reckoning gives
};

/// How near the reckoned figure must come to the claim: proposals round to two or three digits. Own limit.
inline constexpr double reason_tolerance = 0.015;

/// The nearest of the ways that come near enough to `claimed` and give another figure than `ours`.
std::optional<FoundReason> find_reason(const network::System& system, const ClaimedFigure& what,
                                       double claimed, std::optional<double> ours);

}  // namespace runnel::review
