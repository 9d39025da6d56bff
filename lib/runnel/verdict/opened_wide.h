#pragma once
// What taps could give that people open only so far as they need: how much is to spare, and which of two
// cures gains more, shows only with the tap opened wide.
#include "runnel/steady/solver.h"

namespace runnel::verdict {

struct AskResult;
struct FlowVerdict;

/// Whether it is a flow at a tap that lets out all that people want there.
bool held_at_tap(const network::System& system, const AskResult& result);

/// Opens such a tap wide, with the others as people open them, and writes into `could` what comes then,
/// without air in the lines. The solver is left as it was. Nothing if it is no such tap.
void try_wide_open(steady::Solver& solver, AskResult& result);

/// Does so for every need, and adds a finding for each tap that would then take what another tap needs. Left
/// out where there are too many to try.
void open_taps_wide(const network::System& system, FlowVerdict& verdict);

/// What it gives, or could give with its tap opened wide. Precondition: `got` is there.
double most_si(const AskResult& result);

}  // namespace runnel::verdict
