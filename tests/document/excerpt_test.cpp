// What a person sees of a finding.
#include <catch2/catch.hpp>

#include "runnel/document/quote.h"
#include "runnel/document/tree.h"

using namespace runnel;

namespace {

Finding finding(int line, int column, int length) {
  Finding f;
  f.code = "some-code";
  f.message = "unknown place \"Tnak\"";
  f.advice = "did you mean \"Tank\"?";
  f.mark = {"m.yaml", line, column, length};
  return f;
}

}  // namespace

TEST_CASE("an excerpt shows the place, the line, a caret and the hint") {
  CHECK(document::excerpt(finding(2, 9, 4), "a: 1\n  from: Tnak\nb: 2\n") ==
        "m.yaml:2:9: error: unknown place \"Tnak\"\n"
        "  2 |   from: Tnak\n"
        "    |         ^~~~\n"
        "  hint: did you mean \"Tank\"?\n");
}

TEST_CASE("an excerpt shows the second place too") {
  Finding f = finding(3, 1, 1);
  f.other = Mark{"m.yaml", 1, 1, 1};
  f.other_note = "first written here";
  CHECK(document::excerpt(f, "a: 1\nb: 2\na: 3") ==
        "m.yaml:3:1: error: unknown place \"Tnak\"\n"
        "  3 | a: 3\n"
        "    | ^\n"
        "m.yaml:1:1: first written here\n"
        "  1 | a: 1\n"
        "    | ^\n"
        "  hint: did you mean \"Tank\"?\n");
}

TEST_CASE("tabs, controls and broken bytes cannot reach the terminal") {
  const std::string shown = document::excerpt(finding(1, 5, 1), "\ta\x1b[\xFFx\r\nb");
  CHECK(shown.find("  1 |  a?[?x\n    |     ^\n") != std::string::npos);
}

TEST_CASE("the caret stands under the word whatever the width of the letters before it") {
  // Two characters of two cells and three bytes each, then a blank.
  const std::string shown = document::excerpt(finding(1, 8, 1), "水槽 x");
  CHECK(shown.find("  1 | 水槽 x\n    |      ^\n") != std::string::npos);
}

TEST_CASE("long lines are cut around the caret") {
  const std::string text = std::string(5000, 'a') + "BAD" + std::string(5000, 'c');
  const std::string shown = document::excerpt(finding(1, 5001, 3), text, false, 80);
  std::vector<std::string> lines;
  std::string line;
  for (const char c : shown) {
    if (c == '\n') {
      lines.push_back(line);
      line.clear();
    } else {
      line += c;
    }
  }
  REQUIRE(lines.size() == 4);
  CHECK(lines[1].size() <= 80);
  const auto caret = lines[2].find('^');
  REQUIRE(caret != std::string::npos);
  CHECK(lines[1].substr(caret, 3) == "BAD");
  CHECK(lines[2].substr(caret) == "^~~");
}

TEST_CASE("colour only when asked for") {
  CHECK(document::excerpt(finding(1, 1, 1), "a").find('\x1b') == std::string::npos);
  CHECK(document::excerpt(finding(1, 1, 1), "a", true).find("\x1b[31m^\x1b[0m") != std::string::npos);
}

TEST_CASE("a finding without a line shows the file alone") {
  Finding f = finding(0, 0, 1);
  f.severity = Severity::warning;
  CHECK(document::excerpt(f, "a") ==
        "m.yaml: warning: unknown place \"Tnak\"\n  hint: did you mean \"Tank\"?\n");
}

TEST_CASE("a place past the end of the text does no harm") {
  CHECK_NOTHROW(document::excerpt(finding(99, 99, 99), "a: 1\n"));
  CHECK_NOTHROW(document::excerpt(finding(1, 99999, 5), "a: 1\n"));
}

TEST_CASE("doubled braces are shown single") {
  Finding f = finding(0, 0, 1);
  f.message = "unknown " + document::quote("{x}");
  CHECK(document::excerpt(f, "").find("unknown \"{x}\"\n") != std::string::npos);
}

TEST_CASE("quoted words are cut and made harmless") {
  CHECK(document::quote("a\x07"
                        "b") == "\"a?b\"");
  CHECK(document::quote("\xFF") == "\"?\"");
  CHECK(document::quote(std::string(70, 'x')) == "\"" + std::string(60, 'x') + "...\"");
}

TEST_CASE("the nearest name is found, and none where none is near") {
  const std::vector<std::string> names = {"upper box", "barn tank", "corner trough", "roughness", "diameter"};
  CHECK(document::nearest("uper box", names) == "upper box");
  CHECK(document::nearest("Barn_Tank", names) == "barn tank");
  CHECK(document::nearest("rougness", names) == "roughness");
  CHECK(document::nearest("cornre trough", names) == "corner trough");
  CHECK(document::nearest("dia", names) == "diameter");
  CHECK(document::nearest("xyz", names).empty());
  CHECK(document::nearest("", names).empty());
  CHECK(document::nearest("q", {"a", "b"}).empty());
  CHECK(document::nearest("x", {}).empty());
}
