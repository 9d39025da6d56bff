#pragma once
// Sealed lines: whether a siphon that runs keeps its water, and what runs once it has lost it.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/filling/typical_day.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

struct FlowVerdict;

/// What lets air into a siphon, in the order in which it is looked for.
enum class PrimeLoss {
  mouth,          ///< its mouth is not drowned: the box is drawn down to it, or the top runs part-full
  low_mouth,      ///< its mouth comes out of the water of a tank that a usual day draws down
  open_branch,    ///< an open or dry line, a tap or a draw where it is under suction
  air_valve,      ///< an air valve where it is under suction
  column_breaks,  ///< absolute pressure below what keeps air in the water
  low_column,     ///< the same once a usual day has drawn the tank down that it hangs on
};

struct BrokenSiphon {
  int line = -1;  ///< as the system counts them
  PrimeLoss why = PrimeLoss::mouth;
  double station_m = 0.0;  ///< where the air gets in
  std::string by;          ///< open_branch: the line, tap or joint that lets it in; low_...: the tank
  double low_m = 0.0;      ///< low_...: how low that tank stands
};

/// Places neglect the velocity head of the pipe beside them: suction of no more, plus a millimetre, is none.
double neglected_m(const steady::LineState& run);

/// Why a sealed line under suction will not keep its water; none if it will, or if it is not under suction.
std::optional<BrokenSiphon> loses_prime(const network::System& system, const steady::State& state, int line);

/// Whether the suction there comes from what runs below, not from the height of the point over its source, so
/// that throttling the end takes it away.
bool throttling_helps(const network::System& system, const steady::State& state, int line, double station_m);

/// A sealed line that takes all that comes to its mouth and on which nothing stands above that mouth: air
/// goes in with the water, it runs part-full, and there is no siphon to break.
bool falls_all_the_way(const network::System& system, const steady::State& state, int line);

/// The system with such lines as what they are, open ones; none if there are none. Says so in `remarks`.
std::optional<network::System> with_falling_lines_open(const network::System& system,
                                                       const steady::State& state,
                                                       std::vector<Finding>& remarks);

/// The state that lasts when every siphon that loses its water has become an open line.
struct AfterSiphons {
  std::vector<BrokenSiphon> broken;  ///< at least one, in the order in which they were found
  network::System system;            ///< those lines open
  steady::State state;
};

/// None if every sealed line keeps its water.
std::optional<AfterSiphons> follow_siphons(const network::System& system, const steady::State& state);

/// Siphons out of tanks that keep their water at the levels as drawn, and lose it at the lowest level of a
/// usual day, running or not. None if there are none.
std::optional<AfterSiphons> siphons_lost_when_low(const network::System& system, const steady::State& state,
                                                  const filling::TypicalDay& day);

/// Lowers every need that is met only while the siphons run; they must have been judged with the siphons.
void hold_asks_to_siphons(const AfterSiphons& after, FlowVerdict& verdict);

/// One finding for each broken siphon, and for the needs that are missed because of it.
void siphon_findings(const network::System& system, const steady::State& state, const AfterSiphons& after,
                     const FlowVerdict& verdict, std::vector<Finding>& out);

}  // namespace runnel::verdict
