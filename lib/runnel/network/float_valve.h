#pragma once
// A float valve: it shuts the line into a tank when the tank is full.
#include "runnel/units/quantity.h"

namespace runnel::network {

struct FloatValve {
  Length shuts_at, opens_at;
  double loss = 0.0;         ///< K when fully open, on the bore of the pipe it ends
  bool opens_stated = true;  ///< false: not given, so that it is taken to open where it shuts
};

}  // namespace runnel::network
