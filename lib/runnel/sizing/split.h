#pragma once
// Lines that may change size on the way: wide above, where that leaves more head to every point below, and
// narrow below. The shares are those of a linear programme (split_program.h; with loops loop_split.h); where
// the size changes follows from them.
#include <functional>
#include <optional>

#include "runnel/sizing/size.h"
#include "runnel/sizing/split_layer.h"

namespace runnel::sizing {

struct SplitDesign {
  double cost = 0.0;
  /// No split of these lines costs less while the other lines stay as chosen; checked. None with loops, whose
  /// flows depend on the sizes.
  std::optional<double> bound;
  std::vector<SplitPiece> pieces;
  Trial trial;
};

/// The cheapest split found that passes the full trial and is cheaper than the whole lines of the answer;
/// nothing if no line may be split or none gains by it. `stop` ends the search of a system with loops with
/// the best it has.
std::optional<SplitDesign> split(
    const network::Model& model, const SizeAnswer& answer,
    const std::function<bool()>& stop = [] { return false; });

}  // namespace runnel::sizing
