#pragma once
// The works at a spring as drawn: the soil, the stone and cloth around the pipe, the drilled pipe, the vent
// of the box, the wall, and what lies nearby. This is only what is written; `review` judges it by the laws of
// room `works`. A zero length means "not given".
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/mark.h"
#include "runnel/units/quantity.h"

namespace runnel::network {

/// A point of a grading curve.
struct Sieve {
  Length size;
  double finer = 0.0;  ///< share of the weight that passes, 0 to 1
};

struct BaseSoil {
  std::vector<Sieve> sieves;
  bool dispersive = false;  ///< clay that clouds still water
  Mark mark;
};

/// One layer, counted from the soil inward: stone if it has sieves, else cloth.
struct FilterLayer {
  std::string name;
  std::vector<Sieve> sieves;
  Length cloth_opening;
  std::optional<double> cloth_permittivity_ps;
  Length length, width, thickness;  ///< as laid
  Mark mark;
};

/// The face from which the water comes out of the layer, for an estimate from the soil alone.
struct SeepageFace {
  Length width, height;
  double slope = 0.0;  ///< of the water table towards the face, fall over length
  Mark mark;
};

/// The drilled pipe that gathers the water behind the wall.
struct GatheringPipe {
  Length bore, drilled;  ///< `drilled`: length with holes
  double holes_a_metre = 0.0;
  Length hole;  ///< bore of a hole, or width of a slot
  bool slots = false;
  Length head;  ///< depth of water over the pipe that can be relied on
  Mark mark;
};

struct RiserRow {
  Length elevation, hole;
  double count = 0.0;
};

/// A watertight wall below the spring. Elevations are on the model's datum.
struct SpringWall {
  std::optional<Length> spring, water_behind, water_in_front, top, highest_ground;
  Length depth_behind, depth_in_front, width;
  std::string ground;  ///< one of the words of `ground_words`
  Mark mark;
};

/// How far something is kept from the spring, by the word for it.
struct KeptDistance {
  std::string from;
  Length distance;
  Mark mark;
};

/// The works at one box of the model.
struct Collection {
  std::string box;
  std::optional<Flow> greatest_flow;  ///< of the spring, in the wettest time
  std::optional<BaseSoil> soil;
  std::string filter_rules;  ///< edition, one of `filter_rules_words`; empty: not given
  std::vector<FilterLayer> layers;
  std::optional<SeepageFace> seepage;
  std::optional<GatheringPipe> pipe;
  std::vector<RiserRow> riser;
  std::optional<bool> overflow_screened;  ///< the overflow itself is described with the box
  Length vent;                            ///< bore
  Length strainer;                        ///< its openings
  Length depth;                           ///< of water over the mud in the box
  std::optional<SpringWall> wall;
  std::vector<KeptDistance> distances;
  double bleach_percent = 0.0;  ///< strength of the bleach at hand; 0: not given
  Mark mark;
};

/// The words a model may use, in the order in which they are shown.
const std::vector<std::string>& ground_words();
const std::vector<std::string>& filter_rules_words();
const std::vector<std::string>& distance_words();

}  // namespace runnel::network
