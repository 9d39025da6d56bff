#pragma once
// Every code a finding may carry, of all rooms together.
#include <string_view>
#include <vector>

#include "runnel/verdict/codes.h"

namespace runnel::report {

/// All of them, in the order of their codes.
const std::vector<verdict::Code>& finding_codes();

/// One of them, or nullptr.
const verdict::Code* find_code(std::string_view code);

}  // namespace runnel::report
