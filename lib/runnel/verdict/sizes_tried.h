#pragma once
// One line of pipe in the next sizes, each solved: for a need that is not met.
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/start_up.h"
#include "runnel/network/system.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

struct TriedSize {
  std::string pipe;
  Figure gets;                                           ///< at the need that is not met
  bool met = false;                                      ///< all needs are
  air::StartVerdict starts = air::StartVerdict::starts;  ///< the worst of its ways
  double most_pa = 0.0;                                  ///< standing or running
  std::optional<double> rating_pa;
};

/// The pipe as drawn and up to four sizes more, as far as one is wide enough for all needs. Empty unless the
/// system is one line of one pipe with a need of flow or pressure that is judged and not met.
std::vector<TriedSize> next_sizes(const network::System& system, const FlowVerdict& verdict);

}  // namespace runnel::verdict
