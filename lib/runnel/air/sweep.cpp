#include "runnel/air/sweep.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace runnel::air {
namespace {

// The tests of [escarameia2007] went up to about 22 degrees (found in its abstract).
constexpr double escarameia_range_rad = 22.0 * pi / 180.0;

bool in_range(ClearingLaw law, double angle_rad) {
  switch (law) {
    // Pure powers of the slope would have still water carry air away on the flat, and tan() grows without
    // bound towards the vertical; the limit of 45 degrees is our own.
    case ClearingLaw::kalinske_bliss:
      return angle_rad > 0.0 && angle_rad <= 0.25 * pi;
    case ClearingLaw::walski:
      return angle_rad > 0.0;
    case ClearingLaw::escarameia:
      return angle_rad <= escarameia_range_rad;
    case ClearingLaw::kent:
    case ClearingLaw::wisner:
      return true;
  }
  return false;
}

}  // namespace

const std::vector<LawCard>& clearing_laws() {
  static const std::vector<LawCard> cards = {
      {ClearingLaw::kalinske_bliss, "Kalinske and Bliss 1943", "F = 1.509 sqrt(tan theta)",
       "slope above zero; range of bores not known here", "from memory", "[kalinske-bliss1943]"},
      {ClearingLaw::kent, "Kent 1952, refitted by Mosvell 1976", "F = 0.55 + 0.5 sqrt(sin theta)",
       "not known here; later authors hold that the data were misread", "from memory", "[kent1952]"},
      {ClearingLaw::wisner, "Wisner 1975", "F = 0.825 + 0.25 sqrt(sin theta)",
       "not known here; meant to be on the safe side", "found in a secondary source", "[wisner1975]"},
      {ClearingLaw::walski, "Walski 1994", "0.88 F^2 / (sin theta)^0.68 = 1", "force mains; slope above zero",
       "from memory", "[walski1994]"},
      {ClearingLaw::escarameia, "Escarameia 2007", "F = 1.1 (0.61 + 0.56 sqrt(sin theta))",
       "0 to about 22 degrees, bore 150 mm", "form found in a secondary source, constants from memory",
       "[escarameia2007]"},
  };
  return cards;
}

const LawCard& card(ClearingLaw law) {
  const auto& cards = clearing_laws();
  return *std::find_if(cards.begin(), cards.end(), [&](const LawCard& c) { return c.law == law; });
}

double escarameia_constant(double pocket_size) {
  if (pocket_size < 0.06) return 0.45;
  if (pocket_size < 0.12) return 0.50;
  if (pocket_size < 0.30) return 0.57;
  return 0.61;
}

double clearing_froude(ClearingLaw law, double down_angle_rad, const ClearingOptions& options) {
  const double s = std::sin(down_angle_rad);
  switch (law) {
    case ClearingLaw::kalinske_bliss:
      return 1.509 * std::sqrt(std::tan(down_angle_rad));
    case ClearingLaw::kent:
      return 0.55 + 0.5 * std::sqrt(s);
    case ClearingLaw::wisner:
      return 0.825 + 0.25 * std::sqrt(s);
    case ClearingLaw::walski:
      return std::sqrt(std::pow(s, 0.68) / 0.88);
    case ClearingLaw::escarameia:
      return options.escarameia_safety * (options.escarameia_constant + 0.56 * std::sqrt(s));
  }
  return 0.0;
}

double clearing_velocity_ms(ClearingLaw law, double bore_m, double down_angle_rad,
                            const ClearingOptions& options) {
  return std::sqrt(options.gravity_ms2 * bore_m) * clearing_froude(law, down_angle_rad, options);
}

double bubble_drift_froude(double angle_rad) {
  return 0.542 * std::cos(angle_rad) + 0.351 * std::sin(angle_rad);
}

SweepResult sweep(double bore_m, double down_angle_rad, double velocity_ms, const ClearingOptions& options) {
  SweepResult result;
  result.screening = bore_m < screening_bore_m;
  result.least_ms = std::numeric_limits<double>::infinity();
  for (const LawCard& c : clearing_laws()) {
    const LawVelocity law{c.law, clearing_velocity_ms(c.law, bore_m, down_angle_rad, options),
                          in_range(c.law, down_angle_rad)};
    result.laws.push_back(law);
    if (!law.in_range) continue;
    result.least_ms = std::min(result.least_ms, law.velocity_ms);
    result.most_ms = std::max(result.most_ms, law.velocity_ms);
  }
  if (velocity_ms > result.least_ms) result.swept = Swept::by_some;
  if (velocity_ms > result.most_ms) result.swept = Swept::by_all;
  return result;
}

double down_angle_rad(double fall_m, double plan_m) { return std::atan2(fall_m, plan_m); }

std::optional<double> bore_that_sweeps_m(ClearingLaw law, double flow_m3s, double down_angle_rad,
                                         const ClearingOptions& options) {
  const double froude = clearing_froude(law, down_angle_rad, options);
  if (froude <= 0.0 || flow_m3s <= 0.0) return std::nullopt;
  return std::pow(4.0 * flow_m3s / (pi * froude * std::sqrt(options.gravity_ms2)), 0.4);
}

}  // namespace runnel::air
