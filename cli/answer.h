#pragma once
// The common end of `flow` and `quick`: solve, judge, write.
#include <string>
#include <vector>

#include "common.h"
#include "runnel/network/system.h"
#include "runnel/units/print.h"

namespace cli {

/// Returns the exit code.
int answer_flow(const Common& common, const runnel::network::System& system, const std::string& setting,
                runnel::units::System written_in, const std::vector<runnel::Finding>& remarks);

}  // namespace cli
