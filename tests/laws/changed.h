#pragma once
// The same system said in another way.
#include <optional>
#include <string>

#include "support/resolved.h"

namespace runnel::test {

/// A pipeline laid from its end to its start; nothing, and why, if it would not be the same line.
struct Reversed {
  std::optional<network::Pipeline> line;
  std::string why_not;
};
Reversed reversed(const network::Model& system, const network::Pipeline& line);

/// Everything higher by a distance.
network::Model lifted(network::Model system, Length by);

/// Line `l` cut in two at its survey point `i`, with a joint between that costs nothing; nothing if a part
/// or a change of pipe stands there.
std::optional<network::Model> split(const network::Model& system, std::size_t l, std::size_t i);

/// Every name with `before` put in front.
network::Model renamed(network::Model system, const std::string& before);

/// Places and pipelines in an order drawn by a seed.
network::Model shuffled(network::Model system, unsigned seed);

}  // namespace runnel::test
