#pragma once
// How much later a tank is full because the lines before it start empty too.
//
// A filling is followed with every line full of water. With empty lines the water comes later, and what fills
// them is not in the tank:
//   from the spring   the front fills the bore at what the spring gives or the wet part carries to it
//                     (air/wet_part.h). Where a spring feeds several ways all of them fill meanwhile.
//   from a tank       what stands in it runs out no slower into an empty line than into a full one, since the
//                     front is nearer than the end. So at every instant no less has left the tank than with
//                     full lines, and the tanks behind it lack just what the lines have taken: the bore of
//                     the lines over what is gained in the tank just before it is full.
// Both are bounds on the late side.
#include <optional>
#include <string>

#include "runnel/filling/fill.h"
#include "runnel/network/system.h"

namespace runnel::verdict {

/// Whether no way to a tank starts, even once the tanks before it have filled. `emptied`: the tank itself
/// stands at its floor; otherwise as it is drawn, its inlet perhaps under water.
bool no_way_starts(const network::System& system, const std::string& tank, bool emptied);

struct EmptyLines {
  std::optional<double> later_s;  ///< none: it is not known
  std::string why_not;
};

/// Needs a run that ended in an answer, with its steps kept where a tank feeds the one asked for.
EmptyLines empty_lines(const network::System& system, const filling::FillHistory& history,
                       const std::string& tank);

}  // namespace runnel::verdict
