#pragma once
// The whole judgement about air, pipeline by pipeline: where air can collect, whether the current carries it
// off, how grave that is, and which remedies were tried.
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/crests.h"
#include "runnel/air/jump.h"
#include "runnel/air/reach_sweep.h"
#include "runnel/air/risk_points.h"
#include "runnel/air/tried_remedies.h"

namespace runnel::air {

struct AirOptions {
  Clearance clearance;
  std::size_t most_ways = 400;  ///< bounds the work on huge systems that no person has drawn
  /// The budget for trying remedies, in pipelines solved again; the gravest crests come first.
  std::size_t pipelines_solved = 2000;
};

/// Advice on a low point without a washout.
struct WashoutAdvice {
  double station_m = 0.0, elevation_m = 0.0;
  double drains_m3 = 0.0;  ///< water in the bore between the crests (or ends) on both sides
  double drains_length_m = 0.0;
};

/// A crest and the remedies tried; crests of low risk get none.
struct JudgedCrest {
  Crest crest;
  std::optional<CrestRemedies> remedies;
};

struct LineAir {
  std::string pipeline;
  double wanted_clearance_m = 0.0;
  bool clearance_stated = false;  ///< `wanted_clearance_m` is the survey's stated error
  std::vector<JudgedCrest> crests;
  std::vector<RiskPoint> stretches;  ///< other places at risk
  std::vector<ReachSweep> descents;  ///< those that can hold air
  std::vector<Jump> jumps;
  std::vector<WashoutAdvice> washouts;
};

struct AirJudgement {
  std::vector<Way> ways;
  std::size_t ways_left_out = 0;  ///< more than `most_ways`
  std::vector<LineAir> lines;     ///< in the system's order
  std::size_t solves = 0;         ///< used for remedies
  bool cut_short = false;         ///< the budget did not last for every crest
};

/// `state` must be the settled answer of `system`, which must outlive the judgement. Never throws for that.
AirJudgement judge_air(const network::System& system, const steady::State& state,
                       const AirOptions& options = {});

/// Low points of one pipeline without a washout.
std::vector<WashoutAdvice> washouts_wanted(const network::Line& line);

}  // namespace runnel::air
