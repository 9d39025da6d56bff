#pragma once
// The findings that an answer hangs on.
#include <vector>

#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// Those that leave no better ruling than this one, and this one itself.
inline std::vector<const Finding*> bearing_on(const FlowVerdict& verdict, Ruling ruling) {
  std::vector<const Finding*> all;
  for (const Finding& f : verdict.findings)
    if (bearing(f) == ruling) all.push_back(&f);
  return all;
}

}  // namespace runnel::verdict
