#include "runnel/filling/datum.h"

#include <algorithm>
#include <cmath>

namespace runnel::filling {

double middle_m(const network::System& system) {
  double low = 1e300, high = -1e300;
  for (const network::Line& line : system.lines())
    for (const network::SurveyPoint& point : line.survey) {
      low = std::min(low, point.elevation.metres());
      high = std::max(high, point.elevation.metres());
    }
  return low > high ? 0.0 : std::round(0.5 * (low + high));
}

}  // namespace runnel::filling
