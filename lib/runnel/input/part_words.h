#pragma once
// The words for parts on a line.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/network/pipeline.h"

namespace runnel::input {

/// Every word that may open a part, except `pipe`: those with a published loss, and `union`, `air_valve`,
/// `washout`, `check_valve`, `reducing_valve`, `valve` and `fitting`.
const std::vector<std::string>& part_words();

/// What kind of part a word names.
network::PartKind kind_of_part(std::string_view word);

}  // namespace runnel::input
