#pragma once
// Units of the reader's own choosing: a system, and in it another unit for pressure or flow.
#include <optional>
#include <string_view>

#include "runnel/units/display.h"

namespace runnel::units {

/// A system as people name it: "us" or "si", and with or without it units for pressure (`kPa`, `bar`, `m` for
/// metres of water, `psi`) and flow (`L/s`, `L/min`, `gal/min`), between commas: "si,bar", "L/min". What is
/// not named is taken from `otherwise`. None if a word is unknown. The value serves wherever a System does.
std::optional<System> read_choice(std::string_view words, System otherwise);

/// How a choice shows a kind; nullptr if it leaves that kind to the system.
const Display* chosen(Kind kind, System system);
/// The named system underlying a choice.
System base_of(System system);

}  // namespace runnel::units
