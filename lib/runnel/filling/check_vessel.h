#pragma once
// A storage as the checker sees it: with the figures of the model, and volumes by the textbook formulas
// rather than by the curves that the filling uses.
#include <vector>

#include "runnel/network/system.h"

namespace runnel::filling {

struct Vessel {
  int place = 0;
  network::TankShape shape;
  double floor_m = 0.0, lip_m = 0.0, yield_m3s = 0.0;
  const std::vector<network::Draw>* draws = nullptr;

  double volume_m3(double level_m) const;
  /// What its draws want at a time of the run.
  double asked_m3s(double time_s, double start_hour) const;
};

/// What several draws together want at a time of the run.
double asked_m3s(const std::vector<network::Draw>& draws, double time_s, double start_hour);

/// The storages, tanks first, then boxes with a plan. They point into the system.
std::vector<Vessel> vessels_of(const network::System& system);

}  // namespace runnel::filling
