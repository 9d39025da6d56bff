#include "runnel/verdict/rules.h"

namespace runnel::verdict {

std::optional<double> allowed_pressure_pa(const network::System&, const pipes::Pipe& pipe) {
  if (!(pipe.rating.pascals() > 0.0)) return std::nullopt;
  return pipe.rating.pascals();
}

}  // namespace runnel::verdict
