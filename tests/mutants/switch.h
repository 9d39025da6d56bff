#pragma once
// Put before every source file of a build whose rules can be turned around (mutate.py): the number in
// RUNNEL_MUTANT says which comparison or minus is.
#ifdef __cplusplus
#include <bitset>
#include <cstdlib>

namespace runnel_mutants {

inline constexpr int most = 8192;

struct Switch {
  int chosen = -1;
  std::bitset<most> reached;  ///< which have been asked for since it was last cleared
  Switch() {
    if (const char* number = std::getenv("RUNNEL_MUTANT")) chosen = std::atoi(number);
  }
};

inline Switch the_switch;

inline bool turned(int number) {
  the_switch.reached.set(static_cast<std::size_t>(number));
  return number == the_switch.chosen;
}

}  // namespace runnel_mutants
#endif
