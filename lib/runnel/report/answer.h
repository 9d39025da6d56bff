#pragma once
// Everything an answer to `flow` or `quick` is written from.
#include <string>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::report {

struct FlowAnswer {
  const network::System& system;  ///< as it runs under the setting
  const steady::State& state;
  const verdict::FlowVerdict& verdict;
  std::string setting = "normal";
};

}  // namespace runnel::report
