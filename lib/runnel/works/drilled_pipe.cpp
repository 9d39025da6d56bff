#include "runnel/works/drilled_pipe.h"

#include <cmath>

#include "runnel/base/constants.h"

namespace runnel::works {

namespace {

double holes_of(const DrilledPipe& pipe) {
  return pipe.holes_a_metre * pipe.drilled.metres() * pipe.open_share;
}

double open_area_m2(const DrilledPipe& pipe) {
  return holes_of(pipe) * 0.25 * pi * pipe.hole.metres() * pipe.hole.metres();
}

}  // namespace

Intake intake_of(const DrilledPipe& pipe, Length head) {
  Intake intake;
  intake.open_area_m2 = open_area_m2(pipe);
  intake.area_ratio = intake.open_area_m2 / (0.25 * pi * pipe.bore.metres() * pipe.bore.metres());
  const losses::FlowAndSlope one = losses::orifice_flow(head.metres(), pipe.hole.metres(), pipe.cd);
  intake.capacity = Flow::cubic_metres_per_second(one.flow_m3s * holes_of(pipe));
  return intake;
}

std::optional<Length> head_of_holes(const DrilledPipe& pipe, Flow flow) {
  const double area_m2 = open_area_m2(pipe);
  if (!(area_m2 > 0.0)) return std::nullopt;
  const double jet_ms = flow.cubic_metres_per_second() / (pipe.cd * area_m2);
  return Length::metres(jet_ms * std::fabs(jet_ms) / (2.0 * gravity_ms2));
}

std::optional<Velocity> entrance_velocity(const DrilledPipe& pipe, Flow flow) {
  const double area_m2 = open_area_m2(pipe);
  if (!(area_m2 > 0.0)) return std::nullopt;
  return Velocity::metres_per_second(flow.cubic_metres_per_second() / area_m2);
}

Flow riser_intake(const std::vector<losses::HoleRow>& rows, Length level, double open_share, double cd) {
  return Flow::from_si(open_share * losses::drilled_riser_flow(rows, level.metres(), cd).flow_m3s);
}

}  // namespace runnel::works
