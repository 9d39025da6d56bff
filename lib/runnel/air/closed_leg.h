#pragma once
// Where the water closes the last leg of a way before the air in it has left.
//
// A leg that falls from the last crest to a free end keeps no air as long as the water runs down part-full,
// since the air goes out ahead of it. That holds only while everything on the way down passes what comes over
// the crest. A tap narrower than its pipe may not, nor may a float valve, a throttle, or a stretch so gentle
// that it has to run full. The water then stands over the pipe's crown there, and all air between the crest
// and that point is trapped at atmospheric pressure, as it is behind a low point.
//
// What comes over the crest is what all springs give, or what the wet part of the line carries to the crest
// (air/wet_part.h), whichever is less. To be on the safe side, draws and branches on the way count as shut.
#include <optional>
#include <vector>

#include "runnel/air/crests.h"
#include "runnel/network/system.h"

namespace runnel::air {

/// The pocket of the last leg, not yet loaded; none if there is no crest before a free end, if no water
/// comes, if the air leaves by an air valve at the crest, or if everything passes. It does not change the
/// level that the source needs for the line to start, since the point where it closes lies below the crest.
/// `all`: the ways of the system, `way` among them.
std::optional<Pocket> closed_leg(const network::System& system, const std::vector<Way>& all, const Way& way);

}  // namespace runnel::air
