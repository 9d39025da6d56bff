#pragma once
// A float valve: the level of a tank shuts the line that ends in it.
#include "runnel/units/quantity.h"

namespace runnel::network {

struct FloatValve {
  Length shuts_at, opens_at;
  double loss = 0.0;         ///< K when fully open, on the bore of the pipe it ends
  bool opens_stated = true;  ///< false: nobody said where it opens, and it is taken to open where it shuts
};

}  // namespace runnel::network
