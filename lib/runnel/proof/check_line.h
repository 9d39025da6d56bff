#pragma once
// Checks one pipeline of an answer against the raw laws.
#include <optional>

#include "runnel/network/flow_state.h"
#include "runnel/proof/check_cut.h"
#include "runnel/proof/check_tally.h"

namespace runnel::proof {

/// The two ends of a line according to the answer.
struct CheckedEnds {
  std::optional<LongReal> start_m, end_m;  ///< heads; none: dry, or not given (a box that its line drains)
  bool start_dry = false, end_dry = false;
  bool end_in_air = false;    ///< the line ends in the open air at the elevation `end_m`
  LongReal opening_s2m5 = 0;  ///< loss of the opening of its outlet
  bool outlet_shut = false;
  bool float_shut = false;
  /// No more passes a float valve at its level, or a tap as people open it.
  std::optional<LongReal> most_m3s;
  LongReal viscosity_m2s = 0, flow_limit_m3s = 0;
};

/// Checks one line and adds what it finds to the tally.
void check_line(const losses::FrictionLaw& law, const CutLine& cut, const network::LineState& state,
                const CheckedEnds& ends, Tally& tally);

/// The energy that a flowing line needs at the place it leaves; none if its first point has no grade.
std::optional<LongReal> energy_at_source(const CutLine& cut, const network::LineState& state);

}  // namespace runnel::proof
