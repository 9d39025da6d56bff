#pragma once
// A pipeline: pipe laid along surveyed points, with parts on it. Station is the distance from the start, on
// the level as on a map or along the pipe as a tape reads it; pipe length is the slope length between points.
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
  union_,          ///< lets the part beside it be taken out
  air_valve,       ///< lets air out and in at its point
  washout,         ///< drain at a low point, shut in use
  check_valve,     ///< flow from start to end only
  reducing_valve,  ///< holds the pressure behind it at or below `set_pressure`
  fitting,         ///< elbows, couplings, strainers: a loss and no more
};

struct Part {
  PartKind kind = PartKind::fitting;
  std::string type;  ///< the word in the model: "ball_valve", "elbow_90"
  std::string name;  ///< "V1"; fittings may have none
  int count = 1;     ///< {elbow_90: 2}
  Length at;         ///< station
  /// K of all `count` together as it is set, on the bore there; none: by the published tables.
  std::optional<double> loss = 0.0;
  std::string loss_source;
  double open = 1.0;                ///< 0 shut .. 1 fully open; valves only
  std::optional<double> open_loss;  ///< K when fully open, if stated and `loss` is not that; valves only
  Pressure set_pressure;            ///< reducing valves
  Mark mark;
};

/// From `from` on, the line is of this pipe.
struct LaidPipe {
  pipes::Pipe pipe;
  Length from;                       ///< station
  std::optional<double> entry_loss;  ///< K at the change, on the smaller bore; none: by formula
  Mark mark;
};

/// Pipes that a whole line may be laid in, as long as nobody has chosen (`runnel size` does).
struct PipeChoice {
  std::vector<pipes::Pipe> among;  ///< at least one
  int sizes = 1;                   ///< of them so many at most, one after the other
  Mark mark;
};

enum class Air { open, sealed };

/// How stations count: on the level, as on a map, or along the pipe, as a tape laid on it reads.
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
  std::optional<Length> taped_length;  ///< of the pipe on the ground, to hold the survey against
  std::vector<Part> parts;             ///< in order of station
  double entrance_loss = 0.0;          ///< K on the first bore (0.5 from a box or tank, 0 from a joint)
  double exit_loss = 0.0;              ///< K on the last bore (1.0 into a box or tank or open air)
  /// How its mouth in a box or tank is made; nothing to a line that begins at a joint.
  losses::MouthEdge mouth = losses::MouthEdge::square_in_wall;
  /// At its end in a tank, if it has one of its own there; none: what the tank says holds for it.
  std::optional<FloatValve> float_valve;
  Mark mark;
  std::optional<PipeChoice> choice;  ///< still open; until it is made, `pipes` is the first of them

  Length start_elevation() const { return survey.front().elevation; }
  Length end_elevation() const { return survey.back().elevation; }
};

}  // namespace runnel::network
