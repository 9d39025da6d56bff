#pragma once
// Every code that the choice of pipe may say by itself, explained (verdict/codes.h): of each file with rules,
// where their texts stand, and together. Trials say what the verdict says.
#include <vector>

#include "runnel/verdict/codes.h"

namespace runnel::sizing {

std::vector<verdict::Code> design_loops_codes();
std::vector<verdict::Code> design_needs_codes();
std::vector<verdict::Code> design_tree_codes();
std::vector<verdict::Code> size_codes();

}  // namespace runnel::sizing
