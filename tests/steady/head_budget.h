#pragma once
// Where the head of a line goes: what stands at its source = what stands at its end + friction and local
// losses as if it ran full + what is lost in air. Entrances and exits by the words of the model, not by the
// solver.
#include <algorithm>
#include <cmath>
#include <optional>

#include "runnel/steady/state.h"

namespace runnel::test {

/// K / (2 g A^2) [s2/m5].
inline double per_square(double k, double bore_m) {
  const double area = 3.14159265358979323846 * bore_m * bore_m / 4.0;
  return k / (2.0 * 9.80665 * area * area);
}

/// What does not close [m]; nothing for a line without flow, with a throttle (reducing or float valve, a
/// mouth that governs) or whose ends have no level (boxes whose own line leaves part-full).
inline std::optional<double> head_budget_gap(const network::Model& system, const steady::State& state,
                                             std::size_t l) {
  using network::PlaceKind;
  const network::Pipeline& line = system.pipelines[l];
  const steady::LineState& answer = state.lines[l];
  const double q = answer.flow_m3s;
  if (q == 0.0 || answer.mouth_needs_m) return std::nullopt;
  for (const auto& part : line.parts)
    if (part.kind == network::PartKind::reducing_valve || part.at >= line.survey.back().station)
      return std::nullopt;
  const network::Tank* tank = system.tank(line.to);
  if (tank && tank->float_valve) return std::nullopt;
  const bool forward = q > 0.0;
  const auto water = [](PlaceKind kind) { return kind == PlaceKind::box || kind == PlaceKind::tank; };
  const PlaceKind from = *system.place_kind(line.from), to = *system.place_kind(line.to);
  const auto head = [&](const std::string& name) {
    const steady::PlaceState& place = *state.place(name);
    return place.level_m ? place.level_m : place.grade_m;
  };
  const std::optional<double> source = head(forward ? line.from : line.to);
  const std::optional<double> sink = head(forward ? line.to : line.from);
  if (!source || !sink) return std::nullopt;
  // A line that pours out above the water, or over its own last point, ends there.
  const bool sealed = line.air == network::Air::sealed && (forward ? to : from) == PlaceKind::joint;
  double end = (forward ? line.survey.back() : line.survey.front()).elevation.metres();
  if (sealed) end -= system.site.vapour_limit_m();
  if (forward && tank) end = std::max(end, tank->inlet.metres());
  const double own = end;  // the pressure in the pipe's own end does not sink below the air's
  end = std::max(end, *sink);
  const double first_bore = line.pipes.front().pipe.bore.metres(),
               last_bore = line.pipes.back().pipe.bore.metres();
  const double at_start = per_square(forward       ? line.entrance_loss
                                     : water(from) ? 1.0
                                                   : line.entrance_loss,
                                     first_bore);
  const double at_end = per_square(forward ? line.exit_loss : water(to) ? 0.5 : line.exit_loss, last_bore);
  const double velocity_head_m = per_square(1.0, forward ? last_bore : first_bore) * q * q;
  end = std::max(end + (forward ? at_end : at_start) * q * q, own + velocity_head_m);
  double spent = (forward ? at_start : at_end) * q * q;
  for (const auto& reach : answer.reaches) spent += reach.loss_m + reach.lost_in_air_m;
  return *source - end - spent;
}

}  // namespace runnel::test
