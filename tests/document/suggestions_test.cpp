#include "runnel/document/suggestions.h"

#include <catch2/catch.hpp>

using runnel::document::Suggestions;

TEST_CASE("hints are given until patience is spent, and then no more") {
  Suggestions suggestions;
  std::vector<std::string> names;
  for (int i = 0; i < 10'000; ++i) names.push_back("joint " + std::to_string(i));
  CHECK(suggestions.nearest("jiont 77", names) == "joint 77");
  int given = 1;
  while (suggestions.patient() && given < 10'000) given += !suggestions.nearest("jiont 77", names).empty();
  CHECK(given > 10);
  CHECK(given < 200);
  CHECK(suggestions.nearest("jiont 77", names).empty());
}
