#pragma once
// Disinfection: how much bleach or powder a box, a tank or a line needs. It is the dose in milligrams of
// chlorine per litre, times litres, over the strength of the product. Household bleach of p per cent is taken
// to hold p/100 kg of chlorine per litre, as in all printed recipes; old bleach holds less. The doses are
// those of published instructions; local health authorities decide.
#include <span>
#include <string_view>

#include "runnel/units/quantity.h"

namespace runnel::works {

enum class Product {
  liquid,  ///< bleach: sodium hypochlorite in water
  powder,  ///< calcium hypochlorite, granules or tablets
};

/// How much of the product, in the measure of its kind.
struct ChlorineAmount {
  Volume liquid;
  double powder_kg = 0.0;
};

/// Amount for a dose [mg/L] in a volume of water: mg/L times litres / (10 percent), in mL or in grams.
/// Precondition percent above zero; throws std::invalid_argument otherwise.
ChlorineAmount chlorine_for(double dose_mgl, Volume water, Product product, double percent);

/// The dose that an amount of liquid gives [mg/L].
double dose_of_liquid(Volume liquid, double percent, Volume water);
/// The dose that a mass of powder gives [mg/L].
double dose_of_powder(double powder_kg, double percent, Volume water);

/// What a full pipe holds.
Volume volume_of_line(Length bore, Length length);

enum class Disinfects { spring_box, tank, walls, pipe, pipe_fast, main, main_slug };

struct PublishedDose {
  Disinfects what = Disinfects::tank;
  double dose_mgl = 0.0;
  Duration stand;               ///< zero: not stated
  double least_left_mgl = 0.0;  ///< residual required at the end; zero: not stated
  std::string_view source;      ///< a key of the bibliography
};

/// The doses in print, of [virginia-356-487], [oregon-health], [plumbing-code-610] and [awwa-c651]. Not one
/// rule: they differ with what is disinfected.
std::span<const PublishedDose> published_doses();

}  // namespace runnel::works
