#include "runnel/verdict/period_words.h"

namespace runnel::verdict {

std::string period_words(std::size_t period, std::size_t periods) {
  static constexpr const char* months[] = {"January",   "February", "March",    "April",
                                           "May",       "June",     "July",     "August",
                                           "September", "October",  "November", "December"};
  return periods == 12 ? months[period] : "week " + std::to_string(period + 1);
}

}  // namespace runnel::verdict
