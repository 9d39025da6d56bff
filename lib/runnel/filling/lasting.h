#pragma once
// How long it stays as it is. A tank that gives more than it gets is a store, not a spring: it gives what
// stands above its mouth, and after that only what comes in. What follows is the state that lasts.
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
  double in_m3s = 0.0, out_m3s = 0.0;  ///< through its lines, when it begins to give more than it gets
  double drawn_m3s = 0.0;              ///< at the tank itself, over a whole day
  bool short_of_draws = false;  ///< what is drawn there and what is asked for below it cannot be had for
                                ///< long: more than comes in once the tanks that it fills have shut
  double store_m3 = 0.0;        ///< above the lowest mouth it gives through, up to its level
  double mouth_m = 0.0;         ///< elevation of that mouth
  double level_m = 0.0;         ///< elevation of its water at the start
  double lasting_m =
      0.0;  ///< elevation of its water in the lasting state: its mouth, or what runs on stands over it
  /// From the start until its water stands at `emptied_at_m`. `bound`: only at least so long, as no
  /// level was followed.
  double holds_out_s = 0.0;
  bool bound = false;
  /// Down to its mouth; else it comes to stand at a level of its own, where it gives just what it gets.
  bool empties() const { return lasting_m - mouth_m < 0.99 * emptied_m; }
  /// Elevation at which it has given what it had: as filling/fill.h has it where it empties.
  double emptied_at_m() const { return (empties() ? mouth_m : lasting_m) + emptied_m; }
  double gets_m3s = 0.0;  ///< in the lasting state: what runs in, and on
};

struct Lasting {
  std::vector<DrawnStore> stores;  ///< at least one, in the order in which they run empty
  bool fed = true;                 ///< false: no spring gives anything, so the tanks are all there is
  network::System system;          ///< with those tanks as open boxes (network/change.h)
  steady::State state;             ///< of that system; not settled: no answer was reached

  const DrawnStore* store(const std::string& tank) const;
  /// When the last of them is empty.
  double from_s() const { return stores.back().holds_out_s; }
};

/// Follows a settled state of a system until no tank gives more than it gets. None if none does: then the
/// state lasts. What is drawn at a tank counts by its mean over the day until the tank is empty, and takes
/// nothing from what runs on after that; `fill` follows its hours.
///
/// A tank drawn down lowers every head, and no lower head makes another tank give less: so tanks are emptied
/// one after another and none ever comes back. A float valve that is shut opens on the way. Which tanks give
/// out, and what state is left, follows from that with flows as they are at the present levels; how long it
/// takes is then followed in time (filling/fill.h), as the flow out of a tank falls with its level. Where
/// that cannot be done, the present flows give a bound on the short side.
std::optional<Lasting> follow_stores(const network::System& system, const steady::State& state);

}  // namespace runnel::filling
