#pragma once
// Starting levels that would make an answer true of the first hour alone: a tank drawn empty gives nothing
// yet, and a tank drawn full is full at once.
#include <optional>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"
#include "runnel/network/system.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {

/// Tanks that are drawn too low to give anything to a line that leads out, where something is asked beyond,
/// are set to the level that they come to with nothing drawn by the hour. They stay as they were where that
/// level is not found or is no higher.
network::Model with_empty_tanks_settled(network::Model model, std::vector<Finding>& remarks);

/// A model with every tank that rises by itself at the level that it comes to with nothing drawn by the hour.
struct OnceFilled {
  network::Model model;
  Finding finding;     ///< what it was taken at, and what that makes the answer depend on
  Sentence condition;  ///< "once tank stands at 62.00 m"
};

/// None if no tank that water leaves through a line stands higher then.
std::optional<OnceFilled> once_filled(const network::Model& model);

/// Whether a tank is drawn too low to give anything to a line that leads out of it, while something is asked
/// elsewhere than at the tank itself.
bool gives_nothing_yet(const network::Model& model, const network::Tank& tank);

/// Whether some tank begins too low to give anything to a line that leads out of it.
bool begins_empty(const network::Model& model);

/// With tanks that are drawn full, and of which it is asked how long they take to fill, at their floor.
network::System with_asked_tanks_empty(const network::System& drawn, std::vector<Finding>& remarks);

}  // namespace runnel::verdict
