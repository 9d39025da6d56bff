#pragma once
// A pipeline: pipe laid along surveyed points, with parts on it. A station is the distance from the start, on
// the level as on a map or along the pipe as on a tape; pipe length is the slope length between points.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/mark.h"
#include "runnel/losses/mouth.h"
#include "runnel/network/float_valve.h"
#include "runnel/pipes/pipe.h"
#include "runnel/units/quantity.h"

namespace runnel::network {

struct SurveyPoint {
  Length station, elevation;
};

enum class PartKind {
  valve,           ///< any valve that can be shut: ball, gate, globe, angle, butterfly
  union_,          ///< lets the part next to it be taken out
  air_valve,       ///< lets air out and in at its point
  washout,         ///< drain at a low point, shut in use
  check_valve,     ///< flow from start to end only
  reducing_valve,  ///< holds the pressure after it at or below `set_pressure`
  fitting,         ///< elbows, couplings, strainers: only a loss
};

struct Part {
  PartKind kind = PartKind::fitting;
  std::string type;  ///< the word in the model: "ball_valve", "elbow_90"
  std::string name;  ///< "V1"; fittings may have none
  int count = 1;     ///< {elbow_90: 2}
  Length at;         ///< station
  /// K of all `count` together as set, on the bore there; none: by the published tables.
  std::optional<double> loss = 0.0;
  std::string loss_source;
  double open = 1.0;                ///< 0 shut .. 1 fully open; valves only
  std::optional<double> open_loss;  ///< K when fully open, if stated and different from `loss`; valves only
  Pressure set_pressure;            ///< reducing valves
  Mark mark;
};

/// The pipe of the line from `from` on.
struct LaidPipe {
  pipes::Pipe pipe;
  Length from;                       ///< station
  std::optional<double> entry_loss;  ///< K at the change, on the smaller bore; none: by formula
  Mark mark;
};

/// Pipes in which a whole line may be laid, until one is chosen (by `runnel size`).
struct PipeChoice {
  std::vector<pipes::Pipe> among;  ///< at least one
  int sizes = 1;                   ///< the most sizes that may follow one another
  Mark mark;
};

enum class Air { open, sealed };

/// How stations count: on the level, as on a map, or along the pipe, as on a tape laid along it.
enum class Along { level, pipe };

struct Pipeline {
  std::string name;
  std::string from, to;         ///< names of places
  std::vector<LaidPipe> pipes;  ///< at least one; the first starts at the first station
  Air air = Air::open;
  Along along = Along::level;
  std::vector<SurveyPoint> survey;     ///< at least two points, stations rising
  bool surveyed = true;                ///< false: only a length was given, the line is taken straight
  std::optional<Length> survey_error;  ///< stated vertical error of the survey
  std::optional<Length> taped_length;  ///< of the pipe on the ground, to check the survey
  std::vector<Part> parts;             ///< in order of station
  double entrance_loss = 0.0;          ///< K on the first bore (0.5 from a box or tank, 0 from a joint)
  double exit_loss = 0.0;              ///< K on the last bore (1.0 into a box or tank or open air)
  /// How its mouth in a box or tank is made; meaningless for a line that begins at a joint.
  losses::MouthEdge mouth = losses::MouthEdge::square_in_wall;
  /// Its own float valve at its end in a tank; none: that of the tank, if any, applies.
  std::optional<FloatValve> float_valve;
  Mark mark;
  std::optional<PipeChoice> choice;  ///< still open; until it is made, `pipes` is the first of these pipes

  Length start_elevation() const { return survey.front().elevation; }
  Length end_elevation() const { return survey.back().elevation; }
};

}  // namespace runnel::network
