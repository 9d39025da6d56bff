#pragma once
// A tree of full pipes solved for several samples at once, one in each lane of a vector: Newton on flows and
// heads, swept from the ends to the sources and back, starting from the flows of the tree as written. What
// full pipes do not show (crests, boxes that run low, water that would turn back) is for the caller to check.
#include <cstddef>
#include <vector>

#include "runnel/losses/friction.h"

namespace runnel::sizing {

/// Samples that are worked on together, whatever the width of the machine.
inline constexpr std::size_t together = 8;

/// The shape of the tree, and what is the same in every sample.
struct LaneTree {
  struct Branch {
    int above = 0, below = 0;  ///< places; a branch comes after the one that brings water to `above`
    int line = -1;             ///< whose pipe it is; -1: an opening, a local loss alone
    double local_s2m5 = 0.0;   ///< at the bore as written; falls as its fourth power
    double opening_s2m5 = 0.0;
    double start_m3s = 0.0;  ///< the flow to start from
  };
  losses::FrictionLaw law;
  double viscosity_m2s = 0.0;
  std::size_t places = 0, lines = 0;
  std::vector<bool> fixed;       ///< for each place, whether its head is given
  std::vector<double> draw_m3s;  ///< for each place
  std::vector<double> bore_m;    ///< for each line, as written
  std::vector<Branch> branches;  ///< no branch closes a loop
};

/// For each thing one figure a sample, at [thing * together + sample].
struct LaneInputs {
  std::vector<double> bore_m, length_m;  ///< for each line
  std::vector<double> rough;             ///< for each line: roughness [m], or C for Hazen-Williams
  std::vector<double> head_m;            ///< for each place; read where it is fixed
};

struct LaneFlows {
  std::vector<double> flow_m3s;   ///< for each branch
  std::vector<double> per_metre;  ///< for each branch: loss of a metre of its pipe
  std::vector<double> head_m;     ///< for each place
  bool settled[together] = {};
  int steps = 0;  ///< of the sample that took most

  // The linear form of a branch in a step, and what a place passes on as a function of its head.
  std::vector<double> linear, constants, base_m3s, by_head_m2s;
};

/// How many doubles a vector holds: the widest that the machine has, except in tests and benchmarks.
enum class Width { best, two, four, eight };

/// Solves all samples; every width gives the same figures up to rounding, and no sample depends on others.
/// False, and nothing solved, if the machine has no such vectors.
bool solve(const LaneTree& tree, const LaneInputs& inputs, LaneFlows& flows, Width width = Width::best);

}  // namespace runnel::sizing
