#pragma once
// A model made from the few words of `runnel quick`.
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"
#include "runnel/units/print.h"

namespace cli {

/// As typed; empty: not given.
struct QuickWords {
  std::string drop, length, pipe, rating, yield, need, water, altitude, friction, end, cover;
  std::vector<std::string> points, legs, air_valves, hydrants;
  bool sealed = false;
};

struct QuickSystem {
  runnel::network::Model model;
  std::vector<runnel::Finding> findings;  ///< errors: the model must not be used
  std::vector<runnel::Finding> remarks;   ///< what was taken where nothing was said
  runnel::units::UnitSystem written_in = runnel::units::UnitSystem::si;
};

/// The end of the pipe is the datum. With a yield the source is a box, whose lip is the water's level;
/// without one a tank held at that level, so that the answer is what the pipe can take. Stations count along
/// the pipe.
QuickSystem quick_system(const QuickWords& words);

}  // namespace cli
