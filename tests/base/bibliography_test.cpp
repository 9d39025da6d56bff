// The bibliography that travels inside the library.
#include "runnel/base/bibliography.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <regex>
#include <sstream>

using namespace runnel::base;

TEST_CASE("a list of references is read line by line") {
  const auto entry = [](const std::string& key, const std::string& text) {
    return "// [" + key + "] " + text + "\n";
  };
  const std::string prose = "#pragma once\nProse about keys first.\n";
  const auto read = read_references(
      prose + entry("zimmer-9", "Last by its key; FOUND") +
          entry("abel1901",
                "One; two, with C = 1; from memory; the pair 3.7 and 2.51 as in [zimmer-9] eq. 1") +
          entry("bare-key", "No status"),
      "zimmer-9 lib/a.h\nzimmer-9 lib/b.cpp\nunknown-1 lib/c.h\n");
  REQUIRE(read.size() == 3);
  CHECK(read[0].key == "abel1901");
  CHECK(read[0].text == "One; two, with C = 1");
  CHECK(read[0].status == "from memory; the pair 3.7 and 2.51 as in [zimmer-9] eq. 1");
  CHECK(read[1].text == "No status");
  CHECK(read[1].status.empty());
  CHECK(read[2].status == "FOUND");
  CHECK(read[2].used_in == std::vector<std::string>{"lib/a.h", "lib/b.cpp"});
  CHECK(read_references("", "").empty());
}

TEST_CASE("every line of the list is in the library, says how it was come by and is used") {
  std::ifstream in(RUNNEL_SOURCE_DIR "/lib/runnel/references.h");
  const std::regex entry(R"(^// \[([^\]]+)\] .*)");
  std::size_t lines = 0;
  for (std::string line; std::getline(in, line);) {
    std::smatch match;
    if (!std::regex_match(line, match, entry)) continue;
    ++lines;
    INFO(line);
    const Reference* reference = find_reference(match[1].str());
    REQUIRE(reference);
    CHECK_FALSE(reference->text.empty());
    CHECK_FALSE(reference->status.empty());
    CHECK_FALSE(reference->used_in.empty());
  }
  CHECK(lines == references().size());
  CHECK(lines > 50);
}

TEST_CASE("a reference is found by its key, bare or as it is cited") {
  const Reference* clamond = find_reference("clamond2009");
  REQUIRE(clamond);
  for (const char* cited_as : {"[clamond2009]", "clamond2009]", "[clamond2009 eq. 3]",
                               "[clamond2009; from memory]", "[clamond2009, table 2]"})
    CHECK(find_reference(cited_as) == clamond);
  for (const char* none : {"", "[", "[]", "clamond", "clamond20090", "zzz", "Clamond2009"})
    CHECK_FALSE(find_reference(none));
}

TEST_CASE("what a text cites, each once and in its order") {
  const auto found =
      cited("rule [nrcs-430; found] and [asae-s376], 3 [m3/s], again [nrcs-430], [no-such-key] [");
  REQUIRE(found.size() == 2);
  CHECK(found[0]->key == "nrcs-430");
  CHECK(found[1]->key == "asae-s376");
  CHECK(cited("").empty());
}
