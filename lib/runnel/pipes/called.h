#pragma once
// Pipes as people call them: `1-1/4 poly`, `hdpe 32`, `sch40 2`. Such a call says less than a full name, so
// it may mean several pipes.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/pipes/catalogue.h"

namespace runnel::pipes {

/// The pipes that have every word of `call` in their name, material or standard, and its nominal size and
/// rating if it gives them (`32 mm`, `pn16`, `100 psi`). `poly`, `hdpe` and `black` are polyethylene,
/// `galvanised` is steel; a size without a unit is tried in inches and in millimetres. In the order of the
/// catalogue; none if a word fits no pipe or the call is empty.
std::vector<const Pipe*> called(const Catalogue& catalogue, std::string_view call);

/// True if a call is only a size: `32 mm`, `1-1/4 in`. Which bore that means depends on the pipe.
bool only_a_size(std::string_view call);

/// The first word of a call that no pipe of the catalogue has; empty if some pipe has each word.
std::string unknown_word(const Catalogue& catalogue, std::string_view call);

/// The nominal sizes of the pipes that have every word of a call, each once; none if the call is only a size.
std::vector<std::string> sizes_called(const Catalogue& catalogue, std::string_view call);

/// For a hint: every pipe of a list, those of one family together: "PE100 SDR11, SDR17 of 32 mm, 40 mm; Steel
/// Sch40 2 in".
std::string listed(const std::vector<const Pipe*>& pipes);

}  // namespace runnel::pipes
