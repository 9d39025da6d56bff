#pragma once
// What the solvers take. For now the model itself; the rooms above read it under this name.
#include "runnel/network/model.h"

namespace runnel::network {
using System = Model;
}  // namespace runnel::network
