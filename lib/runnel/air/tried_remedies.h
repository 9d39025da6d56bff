#pragma once
// What could be done about a crest. Each remedy is built into a copy of the system, which is solved again:
// the figures are what the changed system achieves, not estimates.
#include <optional>
#include <vector>

#include "runnel/air/trials.h"

namespace runnel::air {

/// An air valve at the crest.
struct TriedVent {
  double station_m = 0.0;
  Running after;  ///< differs from before on sealed lines only
  StartLevels start_after;
  double gain_m = 0.0;               ///< by how much the level needed at the source falls, >= 0
  double uncompressed_gain_m = 0.0;  ///< the same if no air were compressed
};

enum class DigGoal {
  water_starts,     ///< from empty, even if no air were compressed
  asks_met,         ///< every need for a flow is met
  grade_line_clear  ///< the grade line stands the wanted clearance above the trench all along
};

/// A trench through the crest, just deep enough.
struct TriedDig {
  DigGoal goal = DigGoal::grade_line_clear;
  network::Stretch trench;  ///< between the low points (or ends) on both sides; only what is higher is dug
  double depth_m = 0.0;  ///< below the crest; a centimetre less is not enough
  double floor_m = 0.0;  ///< elevation of the trench
  Running after;
  StartLevels start_after;
};

/// A smaller pipe from the catalogue on the descent after the crest.
struct TriedBore {
  pipes::Pipe pipe;
  network::Stretch stretch;
  double velocity_ms = 0.0;  ///< in the new pipe
  SweepResult sweep;         ///< of the leg that is hardest to sweep
  Running after;
};

struct CrestRemedies {
  Running before;
  std::optional<TriedVent> vent;  ///< none: the crest has an air valve
  bool vent_gains_most = false;   ///< the air valve here gains most of all crests on its way
  std::vector<TriedDig> digs;     ///< one for each goal that is missed now and can be reached here
  std::optional<TriedBore>
      bore;  ///< the largest that is swept by every law; none: no pipe tried is swept, or none is needed
};

/// Tries an air valve, then trenches, then a smaller bore. `state` is the answer of `trials.system()`, `way`
/// that of the crest.
CrestRemedies try_remedies(Trials& trials, const steady::State& state, const Way& way, const Crest& crest);

TriedVent try_vent(Trials& trials, const Way& way, const Crest& crest, const Running& before);
std::optional<TriedDig> try_dig(Trials& trials, const Way& way, const Crest& crest, DigGoal goal);
std::optional<TriedBore> try_bore(Trials& trials, const Crest& crest, double flow_m3s);

/// Pipes of the catalogue to try instead of `now`: rated no lower, narrower than it and no wider than
/// `most_bore_m`, the widest first, each bore once. If `now` is in the catalogue they are of its standard and
/// material; if not they have the same C, or are of any kind where none has that C.
std::vector<pipes::Pipe> narrower_pipes(const pipes::Pipe& now, double most_bore_m);

}  // namespace runnel::air
