#include "runnel/sizing/price_list.h"

#include "runnel/base/constants.h"
#include "runnel/pipes/name_key.h"

namespace runnel::sizing {

PriceList::PriceList(const network::Model& model) {
  for (const network::Price& price : model.prices) {
    (price.per_metre ? per_metre_[pipes::name_key(price.of)] : each_[price.of]) = price.amount;
    by_weight_ = by_weight_ && !price.per_metre;
  }
}

std::optional<double> PriceList::per_metre(const pipes::Pipe& pipe) const {
  if (by_weight_) return weight_kgm(pipe);
  const auto found = per_metre_.find(pipes::name_key(pipe.name));
  return found == per_metre_.end() ? std::nullopt : std::optional(found->second);
}

std::optional<double> PriceList::each(const std::string& word) const {
  const auto found = each_.find(word);
  return found == each_.end() ? std::nullopt : std::optional(found->second);
}

std::optional<double> weight_kgm(const pipes::Pipe& pipe) {
  // Densities [pipe-densities; from memory].
  struct Material {
    const char* begins;
    double density_kgm3;
  };
  constexpr Material materials[] = {{"PE", 955.0}, {"HDPE", 955.0}, {"PVC", 1400.0}, {"steel", 7850.0}};
  const double outside_m = pipe.outside.metres(), wall_m = pipe.wall.metres();
  if (!(outside_m > 0.0) || !(wall_m > 0.0)) return std::nullopt;
  for (const Material& material : materials)
    if (pipe.material.rfind(material.begins, 0) == 0)
      return pi * (outside_m - wall_m) * wall_m * material.density_kgm3;
  return std::nullopt;
}

}  // namespace runnel::sizing
