#pragma once
// A storage as the checker sees it: in the model's own words, volumes by the textbook formulas rather than by
// the kernel's curves.
#include <vector>

#include "runnel/network/system.h"

namespace runnel::filling {

struct Vessel {
  int place = 0;
  network::TankShape shape;
  double floor_m = 0.0, lip_m = 0.0, yield_m3s = 0.0;
  const std::vector<network::Draw>* draws = nullptr;

  double volume_m3(double level_m) const;
  /// What its draws ask at a time of the run.
  double asked_m3s(double time_s, double start_hour) const;
};

/// What draws ask together at a time of the run.
double asked_m3s(const std::vector<network::Draw>& draws, double time_s, double start_hour);

/// Tanks first, then boxes with a plan. They point into the system.
std::vector<Vessel> vessels_of(const network::System& system);

}  // namespace runnel::filling
