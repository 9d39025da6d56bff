#pragma once
// Why a need is not met: each bound that might hold the water back is lifted in turn and the system solved
// again. The bound whose lifting gains most is the reason; what it gains is its figure.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/figure.h"
#include "runnel/network/system.h"

namespace runnel::verdict {

struct AskResult;

enum class Bound {
  shut_tap,     ///< the tap itself, which stands shut: opened
  opening,      ///< the tap itself, narrower than its pipe: made wider
  open_tanks,   ///< tanks without a float valve that take water and are asked for none: full, behind one
  other_taps,   ///< taps that run at the same time, and what joints draw: shut
  shut_valve,   ///< a valve that is not fully open: opened
  held_valve,   ///< a reducing or a check valve: taken out
  spring,       ///< what a spring gives: doubled, or more of it where pipe and opening take more
  pipe,         ///< a pipe of a line: laid in the next sizes of its series
  high_point,   ///< a point the line runs over: dug down
  mouth,        ///< the mouth of a line in its box: laid deeper under the lip
  float_valve,  ///< a float valve that is shut: open
  tank_level,   ///< a tank that gives: full to its lip
  free_end,     ///< the end of a line in a tank, where the water runs out freely: throttled
  draws,        ///< what is drawn while a tank fills: nothing (filling_needs.h)
  lower_lip,    ///< the lip of a tank joined with one that fills, over which the water runs: as high as that
                ///< one
};

/// How a line starts whose high point has been dug down.
enum class DugStart {
  by_itself,
  once_vented,  ///< air shut in behind other high points stops it
  once_primed,  ///< another point is still too high: it must be filled by hand
};

struct Reason {
  Bound bound = Bound::pipe;
  std::string place;                ///< shut_tap, opening, spring, mouth (its box), float_valve, tank_level,
                                    ///< lower_lip
  std::vector<std::string> taps;    ///< other_taps: those that run, then joints that draw, in the system's
                                    ///< order; open_tanks: the tanks; draws: where it is drawn
  std::string line;                 ///< shut_valve, held_valve, pipe, high_point, mouth, free_end
  std::string part;                 ///< shut_valve, held_valve: its name
  double from_m = 0.0, to_m = 0.0;  ///< pipe: the stretch; high_point: both the station
  std::string pipe;                 ///< pipe: what is laid there instead
  double dug_m = 0.0;               ///< high_point, mouth: how much deeper; opening: its bore; lower_lip: its
                                    ///< elevation
  double loss = 0.0;                ///< free_end: the loss K of what it is throttled by
  double times = 2.0;               ///< spring: how many times its yield
  Figure with;                      ///< what the need gets then
  std::optional<double> set_pa;  ///< held_valve: a reducing valve, and the pressure that it should be set to
  bool no_more = false;          ///< spring: however much it gave, no more would come than `with`
  bool cures = false;            ///< the need is met with it
  DugStart starts = DugStart::by_itself;  ///< high_point: how the water starts then
  bool for_now = false;                   ///< it would be met with it, until stores are drawn down
  bool at_first = false;                  ///< `with` comes while a tank sinks that the need is met from
  bool enough_at_first = false;           ///< and is what is needed
  bool throttled = false;                 ///< other_taps: to what is asked of them
  bool once_filled = false;               ///< and once the tanks have filled by that
  bool pipe_cures = false;                ///< so it is with larger pipe alone, which gains less
  std::string leaves_short;  ///< a place whose need is met now and would not be with it; or empty
};

/// The range in which a need's figure lies, between the bad and the good corner of what is not known for
/// sure.
struct Range {
  Figure bad, good;
};

/// Sets `reason` of every need that is judged and not met, where lifting some bound gains anything. The needs
/// must have been judged on this system. Bounds on the way from the sources to those needs are tried, nearest
/// first, as many as the budget of lines solved allows.
void find_reasons(const network::System& system, std::vector<AskResult>& asks);

}  // namespace runnel::verdict
