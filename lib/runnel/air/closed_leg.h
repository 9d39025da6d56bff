#pragma once
// Where the water closes the last leg of a way before the air in it has left.
//
// A leg that falls from the last crest to a free end keeps no air as long as the water runs down part-full:
// the air goes out ahead of it. That lasts only while everything on the way down passes what comes over the
// crest. A tap narrower than its pipe does not, nor does a float valve, a throttle, or a stretch so gentle
// that it has to run full. The water then stands over the pipe's crown there, and all air between the crest
// and that place is shut in at the atmosphere's pressure, as it is behind a low point.
//
// What comes over the crest is what all springs give, or what the wet part of the line carries to the crest
// (air/wet_part.h), whichever is less: draws and branches on the way are taken to be shut, the safe side.
#include <optional>
#include <vector>

#include "runnel/air/crests.h"
#include "runnel/network/system.h"

namespace runnel::air {

/// The pocket of the last leg, with nothing loaded yet; none where no crest stands before a free end, where
/// no water comes, where the air leaves by a valve at the crest, and where everything passes. What the source
/// must stand at for the line to start does not change with it: the place it closes stands below the crest.
/// `all`: the ways of the system, `way` among them.
std::optional<Pocket> closed_leg(const network::System& system, const std::vector<Way>& all, const Way& way);

}  // namespace runnel::air
