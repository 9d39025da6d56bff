#pragma once
// Pipes as people call them: `1-1/4 poly`, `hdpe 32`, `sch40 2`. A call says less than a name does, so it may
// mean several pipes.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/pipes/catalogue.h"

namespace runnel::pipes {

/// What is called so: the pipes that have every word of `call` in their name, material or standard, and the
/// nominal size and the rating if they are said (`32 mm`, `pn16`, `100 psi`). `poly`, `hdpe` and `black` are
/// polyethylene, `galvanised` is steel; a size without a unit is tried in inches and in millimetres. In the
/// order of the catalogue; none if a word fits no pipe, or if nothing is said.
std::vector<const Pipe*> called(const Catalogue& catalogue, std::string_view call);

/// True if a call is a size and no more: `32 mm`, `1-1/4 in`. Which bore that is depends on the pipe.
bool only_a_size(std::string_view call);

/// The first word of a call that no pipe of the catalogue has; empty if each word has some pipe.
std::string unknown_word(const Catalogue& catalogue, std::string_view call);

/// The nominal sizes of the pipes that have every word of a call, each once; none if it has no word but a
/// size.
std::vector<std::string> sizes_called(const Catalogue& catalogue, std::string_view call);

/// Names of the first pipes of a list, at most `most`, and how many there are besides: for a hint.
std::string listed(const std::vector<const Pipe*>& pipes, std::size_t most = 8);

}  // namespace runnel::pipes
