#pragma once
// A pipeline resolved: its ends are place numbers, its course is cut, every loss on it is a figure.
#include <string>
#include <vector>

#include "runnel/network/course.h"
#include "runnel/network/pipeline.h"

namespace runnel::network {

/// A part as built into a line.
struct FittedPart : Part {
  double k = 0.0;        ///< loss of all `count` together as set, on the bore of the pipe it sits in
  std::string k_source;  ///< "the model", or the table it comes from
};

/// A pipe of the line, with the loss where it begins (zero at the start of the line).
struct FittedPipe {
  pipes::Pipe pipe;
  Length from;  ///< station
  /// K of the change of bore, on the smaller bore, for flow with the direction of the line and against it.
  double change_forward = 0.0, change_backward = 0.0;
  bool change_stated = false;  ///< given by the model; otherwise by formula (losses/area_change.h)
  Mark mark;
};

struct Line {
  std::string name;
  int from = -1, to = -1;         ///< place numbers of the System
  std::vector<FittedPipe> pipes;  ///< at least one
  Air air = Air::open;
  Along along = Along::level;
  std::vector<SurveyPoint> survey;
  bool surveyed = true;                ///< false: only a length was given, the line is taken straight
  std::optional<Length> survey_error;  ///< stated vertical error of the survey
  std::optional<Length> taped_length;  ///< of the pipe on the ground, to check the survey
  std::vector<FittedPart> parts;       ///< in order of station
  double entrance_loss = 0.0, exit_loss = 0.0;                  ///< K on the first and on the last bore
  losses::MouthEdge mouth = losses::MouthEdge::square_in_wall;  ///< of a line that leaves a box or tank
  std::optional<FloatValve> float_valve;  ///< at its end in a tank: its own, or that of the tank
  Mark mark;
  Course course;

  Length start_elevation() const { return survey.front().elevation; }
  Length end_elevation() const { return survey.back().elevation; }
};

}  // namespace runnel::network
