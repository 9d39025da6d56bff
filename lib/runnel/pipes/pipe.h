#pragma once
// One pipe of a catalogue, or one that the model describes.
#include <string>
#include <vector>

#include "runnel/units/quantity.h"

namespace runnel::pipes {

/// Which bore a row gives. This matters more to the loss than the choice of formula does.
enum class BoreConvention { stated, outside_less_two_minimum_walls, average, inside_controlled };

/// How certain a row is.
enum class Certainty { found, secondary, from_memory, computed, user };

struct Pipe {
  std::string name;      ///< as a model names it: "PE4710 DR11 1-1/2 in"
  std::string material;  ///< "PVC", "PE4710", "PE100", "steel"
  std::string standard;  ///< "ASTM D3035"
  std::string nominal;   ///< "1-1/2 in", "32 mm"
  Length outside;        ///< zero if unknown
  Length wall;           ///< minimum wall; zero if unknown
  Length bore;           ///< the bore used for flow
  BoreConvention bore_convention = BoreConvention::stated;
  Length roughness;      ///< equivalent sand roughness
  double hazen_c = 0.0;  ///< Hazen-Williams C
  Pressure rating;       ///< at the rating temperature; zero = unknown
  double modulus_pa = 0.0;  ///< short-term elastic modulus of the wall; zero = unknown
  std::string temperature_factors;  ///< name of the factor table; empty = none
  Certainty certainty = Certainty::user;
  std::string source;    ///< where the row is from
};

}  // namespace runnel::pipes
