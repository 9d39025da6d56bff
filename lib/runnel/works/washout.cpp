#include "runnel/works/washout.h"

#include "runnel/base/constants.h"

namespace runnel::works {

std::optional<Length> washout_bore(Length main_bore) {
  constexpr double rows_mm[][2] = {{300, 80}, {600, 100}, {1000, 150}, {1400, 200}, {1800, 250}};
  constexpr double least_of_table_mm = 80.0;  // its smallest washout
  if (main_bore < Length::millimetres(least_of_table_mm)) return main_bore;
  for (const auto& [main_mm, washout_mm] : rows_mm)
    if (main_bore <= Length::millimetres(main_mm)) return Length::millimetres(washout_mm);
  return std::nullopt;
}

Emptying emptying_of(Length main_bore, Length length, Duration time, Length washout_bore) {
  const auto area_m2 = [](Length bore) { return 0.25 * pi * bore.metres() * bore.metres(); };
  Emptying found;
  found.volume = Volume::cubic_metres(area_m2(main_bore) * length.metres());
  found.mean = Flow::cubic_metres_per_second(found.volume.si() / time.seconds());
  found.in_washout = Velocity::metres_per_second(found.mean.si() / area_m2(washout_bore));
  return found;
}

}  // namespace runnel::works
