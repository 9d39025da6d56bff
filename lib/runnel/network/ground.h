#pragma once
// How deep the pipes lie, and how deep the ground freezes.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/mark.h"
#include "runnel/units/quantity.h"

namespace runnel::network {

struct Cover {
  std::string pipeline;
  Length depth;  ///< least depth of ground over the top of the pipe
  Mark mark;
};

struct Ground {
  std::optional<Length> frost;  ///< depth to which the ground freezes in a hard winter
  std::vector<Cover> covers;
  Mark mark;
};

}  // namespace runnel::network
