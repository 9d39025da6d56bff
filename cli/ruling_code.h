#pragma once
// What the shell is told of an answer.
#include "runnel/verdict/ruling.h"

namespace cli {

/// The exit code of a ruling.
int code_of(runnel::verdict::Ruling ruling);

}  // namespace cli
