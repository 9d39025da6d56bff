#pragma once
// The trade-off: what it costs to bring more than is asked, or less. One row for each choice that no other
// beats in both.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "runnel/sizing/size.h"

namespace runnel::sizing {

struct FrontierRow {
  double flow_m3s = 0.0;  ///< all needs together, scaled to the most that this choice carries
  double share = 0.0;     ///< of what is asked
  double cost = 0.0;
  bool chosen = false;   ///< the choice of the answer itself
  bool present = false;  ///< what is laid now
  /// The code of the finding by which it fails the full trial of what is asked; empty if it passes. How much
  /// it carries is decided by flows and heads alone.
  std::string fails;
  std::string fails_at;  ///< the place or the pipeline of that finding; empty if it has none
  Sizes sizes;
};

/// `present`: the sizes laid now, if they are among those to choose from; they keep a row even if another
/// choice beats them. With loops each choice is the best that a short search finds.
std::vector<FrontierRow> frontier(
    const network::Model& model, const SizeAnswer& answer, const std::optional<Sizes>& present = {},
    const std::function<bool()>& stop = [] { return false; });

/// The sizes of the open lines of `model` that `laid` has, matched by name; nothing if a line is missing
/// there, or is laid in a pipe that is not among its choice.
std::optional<Sizes> sizes_laid(const network::Model& model, const network::Model& laid);

}  // namespace runnel::sizing
