#pragma once
// Places, links and points are counted in `int`, in which -1 means none; the standard containers count in
// another type.
#include <cstddef>

namespace runnel {

/// A number that is not negative, as the standard containers take it.
constexpr std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace runnel
