#pragma once
// Everything an answer to `flow` or `quick` is written from.
#include <string>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/answer.h"
#include "runnel/verdict/settings.h"

namespace runnel::report {

struct FlowAnswer {
  const network::System& system;  ///< as it runs under the setting
  const steady::State& state;
  const verdict::FlowVerdict& verdict;
  std::string setting = verdict::as_drawn;
  const verdict::Answer* whole = nullptr;  ///< the answer that this run leads; null if there is none
};

}  // namespace runnel::report
