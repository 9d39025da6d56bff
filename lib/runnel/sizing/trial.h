#pragma once
// One choice of pipes, tried in full: taps are throttled to what is asked of them, and then everything that
// `runnel flow` would say about it, under every setting, decides.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/model.h"
#include "runnel/verdict/draft.h"

namespace runnel::sizing {

/// What a tap needs in front of it so that it does not take the water of others.
struct Throttle {
  std::string outlet;
  double loss = 0.0;       ///< K on the tap's own opening, the opening's own loss included
  double opening_m = 0.0;  ///< bore of the opening
  double orifice_m = 0.0;  ///< bore of a sharp hole that does the same
};

struct Trial {
  bool good = false;
  /// A valve that snaps shut would burst some pipe. `runnel flow` only warns of it, since a valve may be shut
  /// slowly; whoever chooses the pipe can take one that stands it.
  std::optional<Finding> surge;
  std::string setting;   ///< where it failed first
  std::string reason;    ///< code of the finding that failed it
  std::string at;        ///< the place or the pipeline of that finding; empty if it has none
  network::Model model;  ///< with its throttles
  std::vector<Throttle> throttles;
  verdict::Sentence sentence;           ///< what `runnel flow` says of it
  verdict::Sentence condition;          ///< "if ...", where it works only under a condition
  std::vector<verdict::Sentence> acts;  ///< what would cure it, where it fails
};

/// Code of the finding about such a valve (verdict/surge_rules.cpp).
inline constexpr const char* surge_above_rating = "surge-above-rating";

/// Tries a model whose pipes are all laid.
Trial try_out(network::Model laid);

/// Works out again what would cure a trial that failed: things that somebody might do, alone and in pairs, are
/// tried on it as well, which takes too long for every choice.
void look_for_cures(Trial& trial);

/// A trial that passed, its throttles rounded to as few digits as leave everybody what is asked, since nobody
/// sets a tap to twelve digits. Unchanged if no rounding works. `laid`: what was tried.
Trial with_round_throttles(Trial trial, network::Model laid);

}  // namespace runnel::sizing
