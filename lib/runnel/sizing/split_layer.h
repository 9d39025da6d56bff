#pragma once
// Turns shares of a line in several sizes into pipe: the length of each piece says where the size changes.
#include <string>
#include <vector>

#include "runnel/network/model.h"

namespace runnel::sizing {

/// One size of a line, from a station on.
struct SplitPiece {
  std::string line, pipe;
  double from_m = 0.0;    ///< station
  double length_m = 0.0;  ///< slope length
  double cost = 0.0;
};

/// A line of the model in shares of sizes.
struct SharedLine {
  struct Size {
    int size = 0;                     ///< place in the line's `choice`
    double share = 0.0;               ///< of the line
    double loss_m = 0.0, cost = 0.0;  ///< of the whole line in this size
  };
  std::size_t line = 0;
  bool forward = true;  ///< water runs from the line's start to its end
  std::vector<Size> sizes;
};

class SplitLayer {
 public:
  explicit SplitLayer(const network::Model& model) : model_(model), laid_(model) {}

  /// Lays the widest where the water comes from. False if the line would have more sizes than it may; pieces
  /// too short to be worth a reducer are neither counted nor laid.
  bool lay(const SharedLine& shared);

  /// The model with all that was laid; the other lines are as they were.
  const network::Model& laid() const { return laid_; }
  const std::vector<SplitPiece>& pieces() const { return pieces_; }

 private:
  const network::Model& model_;
  network::Model laid_;
  std::vector<SplitPiece> pieces_;
};

}  // namespace runnel::sizing
