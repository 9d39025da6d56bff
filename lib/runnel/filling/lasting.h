#pragma once
// How long a state lasts. A tank that gives more than it gets is a store, not a spring: it gives the water
// above its mouth, and after that only what comes in. What follows is the lasting state.
#include <optional>
#include <string>
#include <vector>

#include "runnel/filling/fill.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::filling {

/// A tank that is drawn down.
struct DrawnStore {
  std::string tank;
  double in_m3s = 0.0, out_m3s = 0.0;  ///< by its lines, when it begins to give more than it gets
  double drawn_m3s = 0.0;              ///< at the tank itself, over a whole day
  bool short_of_draws = false;  ///< in the long run less comes in than is drawn from it and needed below it,
                                ///< even once the tanks that it fills have shut
  double store_m3 = 0.0;        ///< above the lowest mouth by which it gives, up to its level
  double mouth_m = 0.0;         ///< elevation of that mouth
  double level_m = 0.0;         ///< elevation of its water at the start
  double lasting_m =
      0.0;  ///< elevation of its water in the lasting state: at its mouth, or above it if water runs on
  /// Time from the start until its water stands at `emptied_at_m`. `bound`: it is at least this long, since
  /// levels were not followed. Where a tap is opened wider than people usually draw there, only as long as it
  /// gives in full: near its mouth a tank gives less and less.
  double holds_out_s = 0.0;
  bool bound = false;
  /// Whether it empties down to its mouth; if not, it comes to a level at which it gives just what it gets.
  bool empties() const { return lasting_m - mouth_m < 0.99 * emptied_m; }
  /// Elevation at which it counts as emptied (`emptied_m` in filling/fill.h).
  double emptied_at_m() const { return (empties() ? mouth_m : lasting_m) + emptied_m; }
  double gets_m3s = 0.0;  ///< what runs in, and on, in the lasting state
};

struct Lasting {
  std::vector<DrawnStore> stores;  ///< at least one, in the order in which they run empty
  bool fed = true;                 ///< false: no spring gives any water, so the tanks are all there is
  network::System system;          ///< with those tanks as open boxes (network/change.h)
  steady::State state;             ///< of that system; if not settled, no answer was reached

  const DrawnStore* store(const std::string& tank) const;
  /// When the last of the stores is empty.
  double from_s() const { return stores.back().holds_out_s; }
};

/// Follows a settled state of a system until no tank gives more than it gets. None if no tank does so from
/// the start, since then the state lasts. Draws at a tank count by their mean over the day until the tank is
/// empty, and take nothing from what runs on after that; `fill` follows their hours.
///
/// A tank drawn down lowers every head, and no lower head makes another tank give less, so tanks are emptied
/// one after another and none ever comes back. A float valve that is shut opens on the way. Which tanks give
/// out, and what state is left, follows from the flows at the present levels. How long it takes is then
/// followed in time (filling/fill.h), since the flow out of a tank falls with its level. Where that cannot be
/// done, the present flows give a bound on the short side.
///
/// `how_long`: whether the time matters. Where it does not, and it is plain without following that a single
/// tank sinks, `holds_out_s` is that bound.
std::optional<Lasting> follow_stores(const network::System& system, const steady::State& state,
                                     bool how_long = true);

}  // namespace runnel::filling
