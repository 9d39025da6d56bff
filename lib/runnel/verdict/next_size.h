#pragma once
// The next size of a pipe, as one would buy it.
#include <optional>

#include "runnel/pipes/pipe.h"

namespace runnel::verdict {

/// The next wider pipe of the same series in the standard catalogue. For a pipe that is not in it, one of the
/// same kind with a bore a quarter larger, as sizes step (common practice, no source). None if the series
/// ends.
std::optional<pipes::Pipe> next_size(const pipes::Pipe& pipe);

}  // namespace runnel::verdict
