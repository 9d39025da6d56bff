#pragma once
// Units of the reader's own choosing: a system, and in it another unit for pressure or flow.
#include <optional>
#include <string_view>

#include "runnel/units/display.h"

namespace runnel::units {

/// A system as people name it: "us" or "si", and with or without it units for pressure (`kPa`, `bar`, `m` for
/// metres of water, `psi`) and flow (`L/s`, `L/min`, `gal/min`), between commas: "si,bar", "L/min". What is
/// not named is as in `otherwise`. None if a word is not known. The value goes wherever a System does.
std::optional<System> read_choice(std::string_view words, System otherwise);

/// What a choice says of a kind; nullptr: nothing, the system has it.
const Display* chosen(Kind kind, System system);
/// The named system a choice is made in.
System base_of(System system);

}  // namespace runnel::units
