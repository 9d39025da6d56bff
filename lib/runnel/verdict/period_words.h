#pragma once
// What a period of a year is called.
#include <cstddef>
#include <string>

namespace runnel::verdict {

/// "January" of 12 periods, "week 7" of any other number. Counted from 0.
std::string period_words(std::size_t period, std::size_t periods);

}  // namespace runnel::verdict
