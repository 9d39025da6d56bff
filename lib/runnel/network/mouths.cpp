#include "runnel/network/mouths.h"

#include <algorithm>

namespace runnel::network {

std::optional<Length> lowest_mouth(const Model& model, const Tank& tank) {
  std::optional<Length> lowest;
  for (const Pipeline& line : model.pipelines)
    if (line.from == tank.name) {
      const Length mouth = std::max(tank.floor, line.survey.front().elevation);
      lowest = std::min(lowest.value_or(mouth), mouth);
    }
  return lowest;
}

bool enters_low(const Tank& tank) { return tank.inlet <= (tank.floor + tank.lip) / 2.0; }

}  // namespace runnel::network
