#pragma once
// A tree of full pipes solved for several samples at once, one in each lane of a vector: Newton on flows and
// heads, swept from the ends to the sources and back, from the flows of the tree as it is written. What a
// full pipe does not know (crests, boxes that run low, water that would turn back) is for the caller to look
// at.
#include <cstddef>
#include <vector>

#include "runnel/losses/friction.h"

namespace runnel::sizing {

/// Samples that are worked on together, whatever the width of the machine.
inline constexpr std::size_t together = 8;

/// The shape of it, and what is the same in every sample.
struct LaneTree {
  struct Branch {
    int above = 0, below = 0;  ///< places; a branch stands behind the one that brings water to `above`
    int line = -1;             ///< whose pipe it is; -1: an opening, a local loss alone
    double local_s2m5 = 0.0;   ///< at the bore as written: goes with its fourth power
    double opening_s2m5 = 0.0;
    double start_m3s = 0.0;  ///< the flow to start from
  };
  losses::FrictionLaw law;
  double viscosity_m2s = 0.0;
  std::size_t places = 0, lines = 0;
  std::vector<bool> fixed;       ///< one a place: its head is given
  std::vector<double> draw_m3s;  ///< one a place
  std::vector<double> bore_m;    ///< one a line, as written
  std::vector<Branch> branches;  ///< none leads back to where it came from
};

/// One figure a sample: [thing * together + sample].
struct LaneInputs {
  std::vector<double> bore_m, length_m;  ///< one a line
  std::vector<double> rough;             ///< one a line: roughness [m], or C for Hazen-Williams
  std::vector<double> head_m;            ///< one a place; of those that are fixed it is read
};

struct LaneFlows {
  std::vector<double> flow_m3s;   ///< one a branch
  std::vector<double> per_metre;  ///< one a branch: loss of a metre of its pipe
  std::vector<double> head_m;     ///< one a place
  bool settled[together] = {};
  int steps = 0;  ///< of the sample that took most

  // What a branch is taken for in a step , and what a place passes on by its head.
  std::vector<double> linear, constants, base_m3s, by_head_m2s;
};

/// Doubles to a vector; the widest that the machine has, unless one is asked for (tests, benchmarks).
enum class Width { best, two, four, eight };

/// Solves all samples; every width gives the same figures but for rounding, and no sample depends on others.
/// False, and nothing solved, if the machine has no such vectors.
bool solve(const LaneTree& tree, const LaneInputs& inputs, LaneFlows& flows, Width width = Width::best);

}  // namespace runnel::sizing
