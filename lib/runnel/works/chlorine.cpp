#include "runnel/works/chlorine.h"

#include <array>
#include <stdexcept>

#include "runnel/base/constants.h"

namespace runnel::works {

ChlorineAmount chlorine_for(double dose_mgl, Volume water, Product product, double percent) {
  if (!(percent > 0.0)) throw std::invalid_argument("a chlorine product needs a strength above zero");
  const double chlorine_kg = dose_mgl * 1e-6 * water.litres();
  const double product_kg_or_litres = chlorine_kg / (0.01 * percent);
  if (product == Product::powder) return {{}, product_kg_or_litres};
  return {Volume::litres(product_kg_or_litres), 0.0};
}

double dose_of_liquid(Volume liquid, double percent, Volume water) { return liquid / water * 1e4 * percent; }

double dose_of_powder(double powder_kg, double percent, Volume water) {
  return powder_kg * 1e4 * percent / water.litres();
}

Volume volume_of_line(Length bore, Length length) {
  return Volume::cubic_metres(0.25 * pi * bore.metres() * bore.metres() * length.metres());
}

std::span<const PublishedDose> published_doses() {
  // Where the source gives a recipe, the dose is worked out from it: [virginia-356-487] 1.5 qt of bleach
  // (5.25 %) per 100 gal is 197 mg/L.
  static constexpr std::array doses = {
      PublishedDose{Disinfects::spring_box, 197.0, Duration::hours(12), 0.0, "virginia-356-487"},
      PublishedDose{Disinfects::tank, 50.0, {}, 0.0, "oregon-health"},
      PublishedDose{Disinfects::walls, 200.0, Duration::hours(3), 0.0, "oregon-health"},
      PublishedDose{Disinfects::pipe, 50.0, Duration::hours(24), 0.0, "plumbing-code-610"},
      PublishedDose{Disinfects::pipe_fast, 200.0, Duration::hours(3), 0.0, "plumbing-code-610"},
      PublishedDose{Disinfects::main, 25.0, Duration::hours(24), 10.0, "awwa-c651"},
      PublishedDose{Disinfects::main_slug, 100.0, Duration::hours(3), 0.0, "awwa-c651"},
  };
  return doses;
}

}  // namespace runnel::works
