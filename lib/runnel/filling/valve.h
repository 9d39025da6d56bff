#pragma once
// What a float valve does while a tank is being filled.

namespace runnel::filling {

enum class Valve {
  open,
  shut,
  held,  ///< open just so far that the level stays
};

/// Whether a held valve can hold the level.
enum class Holding {
  holds,
  too_little,  ///< even wide open it lets too little through
  too_much,    ///< even when it is shut, too much comes by other ways
};

}  // namespace runnel::filling
