#include "runnel/losses/standpipe.h"

#include <cmath>

#include "runnel/base/constants.h"

namespace runnel::losses {

StandpipeFlow standpipe_flow(const Standpipe& standpipe, double head_m) {
  if (!(head_m > 0.0)) return {};
  const double root = std::sqrt(2.0 * gravity_ms2 * head_m);
  const double weir = 2.0 / 3.0 * standpipe.weir_cd * pi * standpipe.bore_m * head_m * root;
  StandpipeFlow least{{weir, 1.5 * weir / head_m}, StandpipeLimit::weir};
  const FlowAndSlope orifice = orifice_flow(head_m, standpipe.bore_m, standpipe.orifice_cd);
  if (orifice.flow_m3s < least.flow.flow_m3s) least = {orifice, StandpipeLimit::orifice};
  if (standpipe.drain) {
    const DrainPipe& drain = *standpipe.drain;
    const FlowAndSlope full = orifice_flow(head_m + drain.drop_m, drain.bore_m, 1.0 / std::sqrt(drain.loss));
    if (full.flow_m3s < least.flow.flow_m3s) least = {full, StandpipeLimit::drain};
  }
  return least;
}

double weir_cd_from_us(double coefficient) {
  constexpr double foot_m = 0.3048;  // exact
  return coefficient * std::sqrt(foot_m) / (2.0 / 3.0 * std::sqrt(2.0 * gravity_ms2));
}

double manning_loss_per_metre(double bore_m, double manning_n) {
  return 2.0 * gravity_ms2 * manning_n * manning_n / std::pow(0.25 * bore_m, 4.0 / 3.0);
}

}  // namespace runnel::losses
