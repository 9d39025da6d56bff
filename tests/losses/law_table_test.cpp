#include "runnel/losses/law_table.h"

#include <catch2/catch.hpp>

using namespace runnel::losses;

TEST_CASE("every friction law has its row, found by its word") {
  for (std::size_t i = 0; i < law_rows().size(); ++i) {
    const LawRow& row = law_rows()[i];
    CHECK(static_cast<std::size_t>(row.law) == i);
    CHECK(law_row(row.law).word == row.word);
    REQUIRE(find_law(row.word) != nullptr);
    CHECK(find_law(row.word)->law == row.law);
  }
  CHECK(find_law("Darcy-Weisbach") == nullptr);
  CHECK(law_words() == std::vector<std::string>{"darcy-weisbach", "hazen-williams"});
}
