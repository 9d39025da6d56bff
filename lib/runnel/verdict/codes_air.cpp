// Codes about air in the line.
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

std::vector<Code> air_codes() { return {}; }

}  // namespace runnel::verdict
