#include "runnel/sizing/constant_spread.h"

#include <algorithm>

#include "runnel/sizing/chance.h"

namespace runnel::sizing {
namespace {

std::vector<double> margins_with(network::Model model, double k) {
  model.friction.k = k;
  return margins_m(model);
}

}  // namespace

std::optional<HangsOnConstant> hangs_on_constant(const network::Model& model) {
  const double own_k = model.friction.k;
  if (model.friction.law != losses::Law::hazen_williams || own_k >= greatest_printed_k) return std::nullopt;
  const std::vector<double> own = margins_m(model), most = margins_with(model, greatest_printed_k);
  const auto least = std::min_element(most.begin(), most.end());
  if (least == most.end() || *least >= 0.0) return std::nullopt;
  const auto place = static_cast<std::size_t>(least - most.begin());
  if (own[place] < 0.0) return std::nullopt;  // it does not work at all
  HangsOnConstant out{places_asked(model)[place], own[place], 0.0};
  double low = own_k, high = greatest_printed_k;
  for (int i = 0; i < 40; ++i) {
    const double middle = 0.5 * (low + high);
    const auto margins = margins_with(model, middle);
    (*std::min_element(margins.begin(), margins.end()) >= 0.0 ? low : high) = middle;
  }
  out.turns_at_k = high;
  return out;
}

}  // namespace runnel::sizing
