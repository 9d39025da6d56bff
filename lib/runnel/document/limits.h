#pragma once
// How much of a text is read. The limits are there for slips and attacks; a system of 100,000 places, each
// with a line of some surveyed points and parts, stays below all of them.
#include <cstddef>

namespace runnel::document {

/// 100,000 places with their lines take 13 MB to 40 MB, depending on how much is written out.
inline constexpr std::size_t largest_text_bytes = 64U * 1024U * 1024U;

/// A place is 2 nodes or more, a line 5 or more and 3 for every surveyed point. Reading a chain of 100,000
/// places, 700,000 nodes, takes 0.45 GB at its peak, the model included (measured); the largest tree takes
/// some 2 GB.
inline constexpr std::size_t most_nodes = 3'000'000;

/// A model needs fewer than ten.
inline constexpr std::size_t deepest_level = 32;

}  // namespace runnel::document
