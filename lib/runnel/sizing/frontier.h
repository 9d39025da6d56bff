#pragma once
// The trade-off: what it costs to bring more than is asked, or less. One row a choice that no other beats in
// both.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "runnel/sizing/size.h"

namespace runnel::sizing {

struct FrontierRow {
  double flow_m3s = 0.0;  ///< all asks together, at the most that this choice carries in their proportion
  double share = 0.0;     ///< of what is asked
  double cost = 0.0;
  bool chosen = false;   ///< the choice of the answer itself
  bool present = false;  ///< what is laid now
  /// Why it fails the full trial of what is asked: the code of a finding; empty: it does. Flows and heads
  /// alone decide how much it carries.
  std::string fails;
  Sizes sizes;
};

/// `present`: the sizes that are laid now, if they are among those to choose from; they stand in their row
/// even if another beats them. With loops each choice is the best that a short search finds.
std::vector<FrontierRow> frontier(
    const network::Model& model, const SizeAnswer& answer, const std::optional<Sizes>& present = {},
    const std::function<bool()>& stop = [] { return false; });

/// The sizes of the open lines of `model` that `laid` has, line by line of the same name; nothing if a line
/// is missing there, or is laid in a pipe that is not to choose from.
std::optional<Sizes> sizes_laid(const network::Model& model, const network::Model& laid);

}  // namespace runnel::sizing
