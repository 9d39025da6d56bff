#pragma once
// Lines that may change size on the way: wide above, where it leaves more head to every point below, and
// narrow below. The shares are those of the linear programme (split_program.h); where they change follows
// from them.
#include <optional>

#include "runnel/sizing/size.h"

namespace runnel::sizing {

/// One size of a line, from a station on.
struct SplitPiece {
  std::string line, pipe;
  double from_m = 0.0;    ///< station
  double length_m = 0.0;  ///< slope length
  double cost = 0.0;
};

struct SplitDesign {
  double cost = 0.0;
  double bound = 0.0;  ///< no split of these lines costs less, the other lines as they are chosen; checked
  std::vector<SplitPiece> pieces;
  Trial trial;
};

/// The cheapest split found that passes the full trial and is cheaper than the whole lines of the answer;
/// nothing if no line may be split or none gains by it.
std::optional<SplitDesign> split(const network::Model& model, const SizeAnswer& answer);

}  // namespace runnel::sizing
