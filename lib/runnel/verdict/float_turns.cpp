#include "runnel/verdict/float_turns.h"

#include <algorithm>
#include <optional>

#include "runnel/base/index.h"
#include "runnel/filling/tank_curve.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/verdict/rounding.h"

namespace runnel::verdict {
namespace {

/// A trough as the balance of two stores sees it.
struct Trough {
  double drawn_m3s = 0.0;  ///< in its busiest hour
  double carries_m3s = 0.0;
  double room_m3 = 0.0;   ///< below the level at which its valve shuts, when it opens or as drawn
  double store_m3 = 0.0;  ///< from there to the floor
};

std::optional<Trough> trough_of(const network::System& system, int tee, const TurnBranch& branch,
                                const std::vector<double>& asked_m3s) {
  const network::Line& line = system.lines()[at(branch.line)];
  const int end = line.from == tee ? line.to : line.from;
  if (system.kind(end) != network::PlaceKind::tank || system.lines_at(end).size() != 1) return std::nullopt;
  const network::Tank& tank = system.tanks()[at(system.place(end).index)];
  const auto floats = network::floats_of(system.model(), tank);
  if (floats.size() != 1 || asked_m3s[at(end)] > network::daily_mean(tank.draws).si() * (1.0 + rounding))
    return std::nullopt;
  const filling::TankCurve curve(tank.shape);
  const double floor_m = tank.floor.metres();
  const double full_m3 = curve.volume_m3(floats.front().shuts_at.metres() - floor_m);
  const double low_m3 =
      curve.volume_m3(std::min(floats.front().opens_at.metres(), tank.level.metres()) - floor_m);
  return Trough{network::busiest_hour(tank.draws).si(), branch.carries_m3s, full_m3 - low_m3, full_m3};
}

/// Whether `one` holds out while `other` takes all the water that it can.
bool holds_out(const Trough& one, const Trough& other, double in_m3s) {
  const double left_m3s = in_m3s - other.drawn_m3s;
  if (!(left_m3s > one.drawn_m3s * (1.0 + rounding))) return false;
  const double regained_m3s = std::min(in_m3s, one.carries_m3s) - one.drawn_m3s;
  if (regained_m3s * left_m3s < one.drawn_m3s * other.drawn_m3s) return false;
  return one.room_m3 + one.drawn_m3s / left_m3s * other.room_m3 < one.store_m3;
}

}  // namespace

bool floats_take_turns(const network::System& system, int tee, const std::vector<TurnBranch>& branches,
                       double in_m3s, const std::vector<double>& asked_m3s) {
  if (branches.size() != 2) return false;
  const auto one = trough_of(system, tee, branches[0], asked_m3s);
  const auto other = trough_of(system, tee, branches[1], asked_m3s);
  return one && other && holds_out(*one, *other, in_m3s) && holds_out(*other, *one, in_m3s);
}

}  // namespace runnel::verdict
