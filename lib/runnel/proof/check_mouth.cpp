#include "runnel/proof/check_mouth.h"

#include <algorithm>
#include <cmath>

namespace runnel::proof {
namespace {

constexpr LongReal circle = 3.14159265358979323846264338327950288L;
constexpr LongReal gravity = 9.80665L;

struct Constants {
  LongReal k, m, c, y;
};

/// [hds-5] table 9, p. 193.
Constants constants_of(losses::MouthEdge edge) {
  switch (edge) {
    case losses::MouthEdge::square_in_wall:
      return {.0098L, 2.0L, .0398L, .67L};
    case losses::MouthEdge::groove_in_wall:
      return {.0018L, 2.0L, .0292L, .74L};
    case losses::MouthEdge::groove_projecting:
      return {.0045L, 2.0L, .0317L, .69L};
    case losses::MouthEdge::metal_in_wall:
      return {.0078L, 2.0L, .0379L, .69L};
    case losses::MouthEdge::mitred:
      return {.0210L, 1.33L, .0463L, .75L};
    case losses::MouthEdge::thin_projecting:
      return {.0340L, 1.50L, .0553L, .54L};
    case losses::MouthEdge::bevel_45:
      return {.0018L, 2.5L, .0300L, .74L};
    case losses::MouthEdge::bevel_33:
      break;
  }
  return {.0018L, 2.5L, .0243L, .83L};
}

/// Critical flow in a circle one metre in diameter, by half the angle that the water subtends: the flow and
/// its energy above the invert.
struct Critical {
  LongReal flow, energy;
};
Critical critical(LongReal half_angle) {
  const LongReal sine = std::sin(half_angle), cosine = std::cos(half_angle);
  const LongReal area = 0.25L * (half_angle - sine * cosine), mean_depth = area / sine;
  return {area * std::sqrt(gravity * mean_depth), 0.5L * (1.0L - cosine) + 0.5L * mean_depth};
}

/// Half the angle at which a flow is critical. In a shallow stream the flow rises with the fourth power of
/// that angle, so its fourth root is nearly linear between two angles. The root is found by regula falsi;
/// where the same end stays twice in a row its value is halved, so that both ends close in.
LongReal critical_angle(LongReal flow) {
  const LongReal root = std::sqrt(std::sqrt(flow));
  const auto over = [&](LongReal angle) { return std::sqrt(std::sqrt(critical(angle).flow)) - root; };
  LongReal low = 0.0L, low_over = -root, high = 0.5L * circle, high_over = over(high);
  while (high_over < 0.0L) {  // ends, since the flow grows without bound towards the crown
    low = high, low_over = high_over;
    high = 0.5L * (high + circle), high_over = over(high);
  }
  for (int i = 0, stays = 0; i < 200 && high - low > 1e-19L * high; ++i) {
    const LongReal next = high - high_over * (high - low) / (high_over - low_over);
    const LongReal value = over(next);
    if (value == 0.0L || next <= low || next >= high) return next;
    if (value < 0.0L) {
      low = next, low_over = value;
      if (stays < 0) high_over *= 0.5L;
      stays = -1;
    } else {
      high = next, high_over = value;
      if (stays > 0) low_over *= 0.5L;
      stays = 1;
    }
  }
  return 0.5L * (low + high);
}

}  // namespace

LongReal PlainMouth::over_axis(LongReal flow_m3s) const {
  const Constants form = constants_of(edge);
  const bool mitred = edge == losses::MouthEdge::mitred;
  const LongReal falls = std::max(slope, 0.0L), tilt = mitred ? 0.7L * falls : -0.5L * std::min(falls, 0.1L);
  const LongReal unit =
      bore_m * bore_m * std::sqrt(bore_m);  // scales a flow in the circle of one metre to this bore
  const LongReal q = flow_m3s / unit, load = 1.811L * q / (0.25L * circle);
  const auto open = [&](LongReal angle) {
    const Critical at = critical(angle);
    const LongReal entry = form.k * std::pow(1.811L * at.flow / (0.25L * circle), form.m);
    return at.energy + entry + tilt * std::min(1.0L, at.energy / 0.25L);
  };
  const auto drowned = [&](LongReal x) { return form.c * x * x + form.y + tilt; };
  const LongReal film_angle = std::acos(0.98L);  // a depth of a hundredth of the bore
  const LongReal open_end = 1.811L * 1.93L, drowned_start = 1.811L * 2.21L;
  LongReal ratio = 0.0L;
  if (const Critical film = critical(film_angle); q <= film.flow)
    ratio = open(film_angle) * q / film.flow;
  else if (load <= open_end)
    ratio = open(critical_angle(q));
  else if (load >= drowned_start)
    ratio = drowned(load);
  else {
    const LongReal from = open(critical_angle(1.93L * 0.25L * circle)), to = drowned(drowned_start);
    ratio = from + (to - from) * (load - open_end) / (drowned_start - open_end);
  }
  return bore_m * (ratio - 0.5L);
}

}  // namespace runnel::proof
