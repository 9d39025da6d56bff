#pragma once
// What shuts a line, in words. Not for users of the library.
#include <string>

#include "runnel/network/system.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {

/// Whether there are taps and the model shuts them all.
bool every_tap_shut(const network::System& system);

/// ", because a valve on main is shut", or the float valve or tap at its end where no valve on it is.
Sentence what_shuts(const network::System& system, const std::string& name);

}  // namespace runnel::verdict
