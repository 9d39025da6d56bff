#pragma once
// Every crest of a system, seen once however many ways of the water lead over it, with its risk.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/path.h"
#include "runnel/air/reach_sweep.h"
#include "runnel/air/remedy.h"
#include "runnel/air/risk.h"
#include "runnel/air/start_up.h"
#include "runnel/air/sweep.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::air {

/// One way from a source to a place where water comes out, and whether water starts on it.
/// `path.legs` point into the system judged.
struct Way {
  Path path;
  Profile profile;
  StartConditions conditions;
  StartUp start;
  VentAdvice vents;  ///< what one more vent at each of its crests would do; judge_air fills it in
};

/// The ways of a system, at most `most` of them; `left_out`, if given, becomes the number of the others.
std::vector<Way> ways_of(const network::System& system, std::size_t most, std::size_t* left_out = nullptr);

/// How near the grade line may come to the pipe. Where a pipeline states its survey's error, that error:
/// nearer than that the line may in truth run above the grade line. Otherwise `unstated_m`.
struct Clearance {
  double unstated_m = 1.0;  ///< common practice, no source; a village handbook asks for ten
                            ///< [jordan1980; from memory]
  double of(const network::Line& line) const;
};

struct Crest {
  std::string pipeline;
  double station_m = 0.0, elevation_m = 0.0;  ///< station on its own pipeline
  std::size_t way = 0;                        ///< the way over it that starts worst
  int point = 0;                              ///< index into that way's profile
  bool holds_air = false;                     ///< a pocket forms at start-up unless a vent lets it out
  bool vented = false;
  std::optional<double> clearance_m;  ///< grade line above the pipe when running; none: no water runs
  double wanted_clearance_m = 0.0;
  /// The descent after it on its own pipeline, in the direction of flow.
  CrestDescent descent;
  /// The leg of the descent that asks for the most; none: no water runs, or none of it lies on this pipeline.
  std::optional<ReachSweep> hardest;
  Graded graded;
};

/// In the order of the ways and along them. `state` must be settled.
std::vector<Crest> crests_of(const network::System& system, const steady::State& state,
                             const std::vector<Way>& ways, const Clearance& clearance = {});

/// For each pipeline the legs that lie on the descent after a crest, or after the source, of some way.
std::map<std::string, std::vector<CrestDescent>> descents_by_line(const std::vector<Way>& ways);

}  // namespace runnel::air
