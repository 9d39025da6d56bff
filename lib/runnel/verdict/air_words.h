#pragma once
// The risks from air in words. Not for users of the library.
#include <string_view>

#include "runnel/air/risk_points.h"

namespace runnel::verdict {

/// One sentence without figures, no full stop.
std::string_view words(air::CrestReason reason);
std::string_view words(air::StretchReason reason);
/// What to do, a whole sentence; empty for none.
std::string_view words(air::StretchRemedy remedy);

}  // namespace runnel::verdict
