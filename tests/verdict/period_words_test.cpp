#include "runnel/verdict/period_words.h"

#include <catch2/catch.hpp>

using runnel::verdict::period_words;

TEST_CASE("twelve periods are the months, any other number are weeks") {
  CHECK(period_words(0, 12) == "January");
  CHECK(period_words(8, 12) == "September");
  CHECK(period_words(11, 12) == "December");
  CHECK(period_words(0, 52) == "week 1");
  CHECK(period_words(51, 52) == "week 52");
  CHECK(period_words(11, 52) == "week 12");
}
