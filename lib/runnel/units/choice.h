#pragma once
// Units of the reader's own choosing: a system, and in it another unit for pressure or flow.
#include <optional>
#include <string>
#include <string_view>

#include "runnel/units/display.h"

namespace runnel::units {

/// A system as people name it: "us" or "si", and with or without it units for pressure (`kPa`, `bar`, `m of
/// water` or `m`, `psi`) and flow (`L/s`, `L/min`, `gal/min`), between commas: "si,bar", "L/min". What is not
/// named is as in `otherwise`. None if a word is not known or two contradict each other. The value goes
/// wherever a UnitSystem does.
std::optional<UnitSystem> read_choice(std::string_view words, UnitSystem otherwise);

/// What is wrong with such words: "furlong is none of ...", "bar and kPa are both units of pressure". Empty:
/// nothing.
std::string wrong_choice(std::string_view words);

/// What a choice says of a kind; nullptr: nothing, the system has it.
const Display* chosen(Kind kind, UnitSystem system);
/// The named system a choice is made in.
UnitSystem base_of(UnitSystem system);

}  // namespace runnel::units
