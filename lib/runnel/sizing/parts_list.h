#pragma once
// What has to be bought and dug for a system whose pipes are laid: pipe by type, in coils or sticks, parts
// with their stations, throttles, and the trench.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/model.h"
#include "runnel/sizing/price_list.h"
#include "runnel/sizing/trial.h"

namespace runnel::sizing {

struct PipeItem {
  std::string pipe;
  double length_m = 0.0;  ///< as laid
  double piece_m = 0.0;   ///< of a coil or a stick
  bool coils = false;
  int pieces = 0;
  double waste_m = 0.0;        ///< bought and not laid
  std::optional<double> cost;  ///< of what is bought
};

struct PartItem {
  std::string part, name, line;  ///< `line` is empty for couplings
  std::optional<double> station_m;
  int count = 1;
  std::optional<double> cost;
};

struct PartsList {
  std::vector<PipeItem> pipes;
  std::vector<PartItem> parts;  ///< line by line, by station
  std::vector<Throttle> throttles;
  double trench_m = 0.0;            ///< slope length of all lines
  std::optional<double> trench_m3;  ///< if a width and a depth are given
  std::optional<double> cost;       ///< of all that has a price; none if nothing has one
  bool all_priced = true;
};

struct Trench {
  Length width, depth;
};

/// Precondition: every line of the model is laid.
PartsList parts_list(const network::Model& model, const PriceList& prices,
                     const std::vector<Throttle>& throttles, const std::optional<Trench>& trench = {});

}  // namespace runnel::sizing
