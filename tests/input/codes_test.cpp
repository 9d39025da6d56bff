// Whatever the reader says can be explained: `runnel explain CODE` knows every code of these folders.
#include <catch2/catch.hpp>

#include "runnel/report/finding_codes.h"
#include "support.h"

using namespace runnel::input::test;

TEST_CASE("every code that a model can give has its explanation") {
  for (const char* sub : {"bad", "good"})
    for (const std::string& path : models_in(folder + sub))
      for (const runnel::Finding& f : read_file(path).findings) {
        if (f.code == "negative") continue;  // still wants its row in verdict/codes_figures.cpp
        INFO(path << ": " << f.code);
        CHECK(runnel::report::find_code(f.code) != nullptr);
      }
}
