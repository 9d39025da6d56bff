#pragma once
// Every crest of a system with its risk, listed once however many ways lead over it.
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

/// One way from a source to a place where water comes out, and whether water starts on it. `path.legs` point
/// into the system judged.
struct Way {
  Path path;
  Profile profile;
  StartConditions conditions;
  StartUp start;
  VentAdvice vents;  ///< what one more air valve at each of its crests would do; filled in by judge_air
};

/// The ways of a system, at most `most` of them; `left_out`, if given, receives the number of the others.
std::vector<Way> ways_of(const network::System& system, std::size_t most, std::size_t* left_out = nullptr);

/// How near the grade line may come to the pipe. Where a pipeline states the error of its survey it is that
/// error, since any nearer the pipe may really lie above the grade line. Otherwise it is `unstated_m`.
struct Clearance {
  double unstated_m = 1.0;  ///< common practice, no source; a village handbook asks for ten
                            ///< [jordan1980; from memory]
  double of(const network::Line& line) const;
};

struct Crest {
  std::string pipeline;
  double station_m = 0.0, elevation_m = 0.0;  ///< station on its own pipeline
  std::size_t way = 0;                        ///< the way over it by which its risk is greatest
  int point = 0;                              ///< index into that way's profile
  bool holds_air = false;                     ///< a pocket forms at start-up unless an air valve lets it out
  bool vented = false;
  std::optional<double> clearance_m;  ///< grade line above the pipe when water runs; none: no water runs
  double wanted_clearance_m = 0.0;
  /// The descent after it on its own pipeline, in the direction of flow.
  CrestDescent descent;
  /// The leg of the descent that is hardest to sweep; none: no water runs, or none of it is on this pipeline.
  std::optional<ReachSweep> hardest;
  Graded graded;
};

/// The crests in the order of the ways and along them. `state` must be settled.
std::vector<Crest> crests_of(const network::System& system, const steady::State& state,
                             const std::vector<Way>& ways, const Clearance& clearance = {});

/// For each pipeline, the legs that lie on the descent after a crest, or after the source, of some way.
std::map<std::string, std::vector<CrestDescent>> descents_by_line(const std::vector<Way>& ways);

}  // namespace runnel::air
