#pragma once
// What the independent checker of a steady state looked at, in words.
#include <string>
#include <vector>

#include "runnel/network/flow_state.h"

namespace runnel::report {

/// One sentence a kind of check; none if nothing was checked.
std::vector<std::string> proof_words(const network::Proof& proof);

}  // namespace runnel::report
