#pragma once
// What could be done about a crest, each built into a copy of the system and solved again: the figures
// are what the changed system achieves, not estimates.
#include <optional>
#include <vector>

#include "runnel/air/trials.h"

namespace runnel::air {

/// An air valve at the crest.
struct TriedVent {
  double station_m = 0.0;
  Running after;  ///< differs from before on sealed lines only: an open line takes no harm from it
  StartLevels start_after;
  double gain_m = 0.0;               ///< by how much the level asked for at the source falls, >= 0
  double uncompressed_gain_m = 0.0;  ///< the same if the pockets kept their full height
};

enum class DigGoal {
  water_starts,     ///< from empty, even if no pocket gave way
  asks_met,         ///< every flow asked for is delivered
  grade_line_clear  ///< the grade line stands the wanted clearance above the trench all along
};

/// A trench through the crest, just deep enough.
struct TriedDig {
  DigGoal goal = DigGoal::grade_line_clear;
  network::Stretch
      trench;            ///< between the low points (or ends) on both sides; only what stands higher is dug
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
  SweepResult sweep;         ///< of the leg that asks for most
  Running after;
};

struct CrestRemedies {
  Running before;
  std::optional<TriedVent> vent;  ///< none: there is one
  bool vent_gains_most = false;   ///< of all crests on its way
  std::vector<TriedDig> digs;     ///< one for each goal that is missed now and can be reached here
  std::optional<TriedBore>
      bore;  ///< the largest that is swept by every law; none: no pipe tried is, or need be
};

/// Tries them in this order: vent, dig, bore. `state` is the answer of `trials.system()`, `way` the crest's.
CrestRemedies try_remedies(Trials& trials, const steady::State& state, const Way& way, const Crest& crest);

TriedVent try_vent(Trials& trials, const Way& way, const Crest& crest, const Running& before);
std::optional<TriedDig> try_dig(Trials& trials, const Way& way, const Crest& crest, DigGoal goal);
std::optional<TriedBore> try_bore(Trials& trials, const Crest& crest, double flow_m3s);

/// Pipes of the catalogue to try instead of one of bore `now`: of the same standard and rated no lower if
/// it is in the catalogue, of the same C (or, where there is none, of every kind) if it is not; narrower than
/// it and no wider than `most_bore_m`, the widest first, each bore once.
std::vector<pipes::Pipe> narrower_pipes(const pipes::Pipe& now, double most_bore_m);

}  // namespace runnel::air
