#pragma once
// The steady problem in numbers: places with heads, links with laws. Built from a System by
// steady/assemble.h, or directly (benchmarks, tests).
//
// A link's law. Between place a and place b a pipeline carries the largest flow that all its
// *controls* allow. A control says: between a source head and a sink head there must be room for the
// loss of the stretch between them,
//     source - sink >= loss(Q).
// For a pipe that runs full there is one: from place a to place b. A crest on a line that air can enter
// adds one from place a to the crest's own elevation (plus the velocity head there); the mouth in a box adds
// one from place a to the pipe's axis, with the head it needs in place of a loss; a reducing valve adds one
// from its set head to place b. Hence
//     Q(H_a, H_b) = least over the controls of loss^-1(source - sink), and 0 where that is negative,
// which rises with H_a, falls with H_b and is continuous. Continuity at the places is then an
// M-function (off-diagonally antitone, and what leaves one place enters another): two states that
// satisfy all of it have the same flows. So a state whose controls, lips and draws are all consistent is
// *the* state; nothing depends on how it was found. Theory: [rheinboldt1970]; the argument is written
// out in DEVELOPERS.md.
#include <cstdint>
#include <limits>
#include <memory>
#include <vector>

#include "runnel/losses/friction.h"
#include "runnel/losses/mouth.h"
#include "runnel/steady/column_law.h"

namespace runnel::steady {

inline constexpr double unbounded = std::numeric_limits<double>::infinity();

struct KernelNode {
  bool fixed = false;
  double head_m = 0.0;       ///< of a fixed place
  double inflow_m3s = 0.0;   ///< a spring's yield (or, negative, a draw that is always met)
  double lip_m = unbounded;  ///< the place spills what would raise its water higher
  double draw_m3s = 0.0;     ///< met only as far as the head stays at `draw_floor_m` or above
  double draw_floor_m = -unbounded;
};

struct Control {
  double source_head_m = 0.0;   ///< if not from_node
  double sink_head_m = 0.0;     ///< if not to_node
  double quadratic_s2m5 = 0.0;  ///< local losses: K / (2 g A^2), summed
  std::uint32_t lengths = 0;    ///< first of this stretch's lengths [m], one a friction term of the link
  bool from_node = true, to_node = true;
  double station_m = -1.0;  ///< where it is on the line; < 0: the ends
  int mouth = -1;           ///< into Kernel::mouths: the control needs that mouth's head instead of a loss
};

/// The mouth of a link in open water, over the axis of its pipe (losses/mouth.h).
struct LinkMouth {
  LinkMouth(const losses::Mouth& mouth, double bore_m);

  losses::Mouth law;
  /// A flow and the head it needs. A smaller flow under a greater head certainly has room, without computing.
  double easy_m3s, easy_m;
};

struct Link {
  int a = -1, b = -1;
  std::uint32_t term = 0, terms = 0;          ///< friction terms (pipes of different bore or wall)
  std::uint32_t forward = 0, forwards = 0;    ///< controls for flow a -> b; the first is end to end
  std::uint32_t backward = 0, backwards = 0;  ///< controls for flow b -> a; none: it cannot flow so
  double smooth_m3s = 0.0;  ///< quadratic losses are m Q sqrt(Q^2 + smooth^2): finite slope at zero
  double start_m3s = 0.0;   ///< flow at which the first, linear step takes its slope
  /// The controls of its mouths in open water at a and at b, each the last of its direction; -1: none.
  int forward_mouth = -1, backward_mouth = -1;
  double most_m3s =
      unbounded;  ///< no more passes a float valve that holds its level, or a tap as it is opened
  bool shut = false;
  int mouth(bool going_forward) const { return going_forward ? forward_mouth : backward_mouth; }
  /// Laws (index into Kernel::columns) that replace the first control of each direction; -1: none.
  int forward_column = -1, backward_column = -1;
  /// First and number of its laws behind reducing valves (into Kernel::behind_valves).
  std::uint32_t behind_valve = 0, behind_valves = 0;

  /// Whether it has one smooth law through zero flow: a full pipe that may carry water either way.
  bool two_way_law(const struct Kernel& kernel) const;
};

/// A law for the stretch from a reducing valve to the end of a link, besides the valve's own control.
struct BehindValve {
  std::uint32_t control = 0;  ///< the valve's own, whose source is the head that the valve holds
  int column = -1;            ///< into Kernel::columns
};

/// Every head is above `datum_m`. The solver does not read it: whoever makes the kernel subtracts it exactly
/// and adds it to the answer, so that no digits are lost to the height of the site.
struct Kernel {
  double datum_m = 0.0;
  std::vector<KernelNode> nodes;
  std::vector<Link> links;
  std::vector<losses::PipeFriction> terms;
  std::vector<Control> controls;
  std::vector<double> lengths_m;
  std::vector<std::shared_ptr<const ColumnLaw>> columns;
  std::vector<BehindValve> behind_valves;
  std::vector<LinkMouth> mouths;

  /// Adds a plain full pipe that carries water both ways, K on its own bore; returns its link.
  int add_pipe(int a, int b, const losses::PipeFriction& friction, double length_m, double loss_k);
  /// Adds an opening from a place to the air at an elevation, K on its own bore; returns its link.
  int add_opening(int node, double elevation_m, double bore_m, double loss_k, double kinematic_viscosity_m2s);
};

}  // namespace runnel::steady
