#include "runnel/base/finding.h"

#include <algorithm>

namespace runnel {

bool any_error(const std::vector<Finding>& findings) {
  return std::any_of(findings.begin(), findings.end(),
                     [](const Finding& f) { return f.severity == Severity::error; });
}

}  // namespace runnel
