#pragma once
// Writes a tree as a YAML text that `read` turns into the same tree. Comments and layout of the original text
// are lost.
#include <string>

#include "runnel/document/tree.h"

namespace runnel::document {

/// Blocks stand one below the other; a block of few values takes one line. Precondition: the root is a map.
std::string written(const Node& root);

}  // namespace runnel::document
