#pragma once
// What a metre of pipe costs: as the model says, or by the weight of its material where it says nothing.
#include <map>
#include <optional>
#include <string>

#include "runnel/network/model.h"

namespace runnel::sizing {

class PriceList {
 public:
  explicit PriceList(const network::Model& model);

  /// The model prices no pipe, so kilograms stand in for money: right for the order of the sizes of one
  /// material, not for a choice between materials.
  bool by_weight() const { return by_weight_; }
  /// Cost of a metre; nothing if neither a price nor the wall is known.
  std::optional<double> per_metre(const pipes::Pipe& pipe) const;
  /// Cost of one part, by its word in the model.
  std::optional<double> each(const std::string& word) const;

 private:
  bool by_weight_ = true;
  std::map<std::string, double> per_metre_, each_;
};

/// Weight of a metre of pipe at its least wall [kg/m]; nothing if outside, wall or material is not known.
/// Pipe as delivered weighs 4 to 10 % more than that.
std::optional<double> weight_kgm(const pipes::Pipe& pipe);

}  // namespace runnel::sizing
