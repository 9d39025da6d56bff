#pragma once
// The head that a part on a pipeline loses, by the published tables, on the bore of the pipe it sits in.
#include <optional>

#include "runnel/losses/fittings.h"
#include "runnel/network/pipeline.h"

namespace runnel::network {

/// The pipe at a station: the last that begins at or before it. Precondition: the line has a pipe.
const LaidPipe& pipe_at(const Pipeline& line, Length station);

/// K of all `part.count` together, open from 0 (shut) to 1, on the bore there; none if no table has it
/// (losses/fittings.h says when).
std::optional<losses::PublishedLoss> published_loss_of(const Pipeline& line, const Part& part, double open);

}  // namespace runnel::network
