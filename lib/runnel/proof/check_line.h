#pragma once
// One pipeline of an answer against the raw laws.
#include <optional>

#include "runnel/network/flow_state.h"
#include "runnel/proof/check_cut.h"
#include "runnel/proof/check_tally.h"

namespace runnel::proof {

/// What stands at the two ends of a line, by the answer.
struct CheckedEnds {
  std::optional<LongReal> start_m, end_m;  ///< none: dry (or, a box its line drains, not said)
  bool start_dry = false, end_dry = false;
  bool end_in_air = false;    ///< the line pours out there, under `end_m`
  LongReal opening_s2m5 = 0;  ///< of the outlet it ends in
  bool outlet_shut = false;
  bool float_shut = false;
  std::optional<LongReal> float_most_m3s;  ///< a float valve at its level lets no more through
  LongReal viscosity_m2s = 0, flow_limit_m3s = 0;
};

/// Checks one line; everything found goes to the tally.
void check_line(const losses::FrictionLaw& law, const CutLine& cut, const network::LineState& state,
                const CheckedEnds& ends, Tally& tally);

/// The energy a flowing line takes from the place it leaves, by its first point; none if it says nothing.
std::optional<LongReal> energy_at_source(const CutLine& cut, const network::LineState& state);

}  // namespace runnel::proof
