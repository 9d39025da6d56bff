#include "runnel/pipes/rating.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {

std::optional<double> allowed_pressure_pa(const network::System& system, const pipes::Pipe& pipe) {
  if (!(pipes::known_rating(pipe) > Pressure{})) return std::nullopt;
  return pipes::rating_at(pipe, Temperature::celsius(system.site().water.temperature_c)).pascals();
}

}  // namespace runnel::verdict
