#pragma once
// A tree back into a YAML text that `read` reads as the same tree. Comments and the layout of the text it came
// from are not kept.
#include <string>

#include "runnel/document/tree.h"

namespace runnel::document {

/// Blocks below each other; what holds a few values stands on one line. Precondition: the root is a map.
std::string written(const Node& root);

}  // namespace runnel::document
