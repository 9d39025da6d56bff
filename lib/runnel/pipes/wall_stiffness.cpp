#include "runnel/pipes/wall_stiffness.h"

#include "runnel/units/quantity.h"

namespace runnel::pipes {
namespace {

constexpr double psi = units::psi_pa;
constexpr double mpa = 1e6;

// For PE of American grades: 110 000 psi in a maker's article, 150 000 psi where the load is dynamic.
// Poisson's ratios: plastics [plastic-poisson], steel universal textbook matter; all from memory.
constexpr WallStiffness known[] = {
    {"PVC", 400000 * psi, 3300 * mpa, 0.38, Certainty::from_memory,
     "400 000 psi [awwa-surge]; 3.0 to 3.3 GPa in European use"},
    {"PE100", 800 * mpa, 1100 * mpa, 0.45, Certainty::from_memory, "0.8 to 1.1 GPa in makers' handbooks"},
    {"PE80", 700 * mpa, 800 * mpa, 0.45, Certainty::from_memory, "0.7 to 0.8 GPa in makers' handbooks"},
    {"PE4710", 110000 * psi, 150000 * psi, 0.45, Certainty::from_memory,
     "110 000 psi [surge-article], 150 000 psi dynamic [awwa-surge]"},
    {"PE3608", 110000 * psi, 150000 * psi, 0.45, Certainty::from_memory,
     "110 000 psi [surge-article], 150 000 psi dynamic [awwa-surge]"},
    {"PEX", 67425 * psi, 67425 * psi, 0.45, Certainty::found, "67 425 psi at 20 C [pex-maker]"},
    {"steel", 200000 * mpa, 207000 * mpa, 0.30, Certainty::from_memory, "200 to 207 GPa, textbooks"},
    {"galvanized steel", 200000 * mpa, 207000 * mpa, 0.30, Certainty::from_memory, "as steel"}};

}  // namespace

const WallStiffness* wall_stiffness(std::string_view material) {
  for (const WallStiffness& row : known) {
    if (row.material == material) return &row;
  }
  return nullptr;
}

}  // namespace runnel::pipes
