// Everything that is refused, with its code and place. One defect each; the dangers were measured in
// yaml-cpp 0.7.
#include <catch2/catch.hpp>

#include "runnel/document/limits.h"
#include "runnel/document/tree.h"

using namespace runnel;

namespace {

struct Case {
  const char* name;
  std::string text;
  const char* code;
  int line;
  int column;
};

std::string repeat(const std::string& piece, int times) {
  std::string out;
  for (int i = 0; i < times; ++i) out += piece;
  return out;
}

std::vector<Case> cases() {
  return {
      {"nothing", "", "yaml-empty", 1, 1},
      {"only a remark", "# nothing here\n", "yaml-empty", 1, 1},
      {"a lone comma", ",", "yaml-text-not-read", 1, 1},
      {"commas", ",,,\n,", "yaml-text-not-read", 1, 1},
      {"a list at the root", "- {id: P1}\n- {id: P2}\n", "yaml-root-not-entries", 1, 1},
      {"a stray comma in a list at the root", "- {id: P1}\n,\n- {id: P2}\n", "yaml-text-not-read", 2, 1},
      {"a text at the root", "hello\n", "yaml-root-not-entries", 1, 1},
      {"a second document", "a: 1\n---\nb: 2\n", "yaml-second-document", 2, 1},
      {"an empty second document", "a: 1\n---\n", "yaml-second-document", 2, 1},
      {"text behind braces", "{a: 1}\nb: 2\n", "yaml-text-not-read", 2, 1},
      {"text behind braces and a comma", "{a: 1}\n, b: 2\n", "yaml-text-not-read", 2, 1},
      {"a name written twice", "a: 1\nb: 2\na: 3\n", "yaml-duplicate-key", 3, 1},
      {"a name written twice in braces", "p: {a: 1, \"a\": 3}\n", "yaml-duplicate-key", 1, 11},
      {"a reference to itself", "a: &a [*a]", "yaml-anchor", 1, 4},
      {"an anchor", "a: &x 1\n", "yaml-anchor", 1, 4},
      {"an unknown reference", "a: *x\n", "yaml-syntax", 1, 4},
      {"a merge key", "a: 1\n<<: {b: 2}\n", "yaml-merge-key", 2, 1},
      {"a tag", "a: !!python/object 1\n", "yaml-tag", 1, 4},
      {"a tag on a list", "a: !x [1]\n", "yaml-tag", 1, 4},
      {"a tag on braces", "a: !x {b: 1}\n", "yaml-tag", 1, 4},
      {"a tag without a name", "a: ! 1\n", "yaml-tag", 1, 4},
      {"a tag that once ended the program", "!2", "yaml-tag", 1, 1},
      {"a block as a name", "? {a: b}\n: c\n", "yaml-key-not-text", 1, 3},
      {"a list as a name", "[a]: b\n", "yaml-key-not-text", 1, 1},
      {"nothing as a name", "a: 1\n~: b\n", "yaml-key-not-text", 2, 1},
      {"too deep", "a: " + repeat("[", 40) + repeat("]", 40), "yaml-too-deep", 1, 35},
      {"far too deep", "a: " + repeat("[", 5000), "yaml-too-deep", 1, 104},
      {"a byte that is not UTF-8",
       "a: 1\nb: 45 \xB0"
       "F\n",
       "file-not-utf8", 2, 7},
      {"an overlong slash", "a: \xC0\xAF\n", "file-not-utf8", 1, 4},
      {"half a character at the end", "a: \xE2\x82", "file-not-utf8", 1, 4},
      {"a surrogate", "a: \xED\xA0\x80\n", "file-not-utf8", 1, 4},
      {"UTF-16",
       std::string("\xFF\xFE"
                   "a\0:\0",
                   6),
       "file-not-utf8", 1, 1},
      {"a zero byte", std::string("a: 1\0\n", 6), "file-control-character", 1, 5},
      {"a byte that the parser takes for the end", "a: 1\nb: \x04 2\n", "file-control-character", 2, 4},
      {"an escape", "a: \x1b[31mred\n", "file-control-character", 1, 4},
      {"a line that the parser would drop", "a: 1\n%b: 2\n", "yaml-directive", 2, 1},
      {"an instruction to the parser", "%TAG ! x\n---\na: 1\n", "yaml-directive", 1, 1},
      {"a gap in a list", "a: [1, , 2]\n", "yaml-gap-in-list", 1, 8},
      {"a gap at the start of a list", "a: [, 2]\n", "yaml-gap-in-list", 1, 5},
      {"a gap in braces", "a: {b: 1, , c: 2}\n", "yaml-key-not-text", 1, 11},
      {"a lone carriage return", "a: 1\rb: 2\n", "file-control-character", 1, 5},
      {"a mark that turns the direction", "a: x\xE2\x80\xAEy\n", "file-control-character", 1, 5},
      {"a tab that indents", "a:\n\tb: 1\n", "file-tab-indent", 2, 1},
      {"a tab behind spaces", "a:\n  \tb: 1\n", "file-tab-indent", 2, 3},
      {"a missing colon", "a: 1\n  b 2\nc: 3\nd 4\ne: 5\n", "yaml-syntax", 4, 1},
      {"a missing colon in the last line", "a: 1\nb 2\n", "yaml-missing-colon", 2, 1},
      {"a missing space behind a colon", "a: 1\nb:2\nc: 3\n", "yaml-syntax", 2, 1},
      {"a missing space in the last line", "a: 1\nb:2\n", "yaml-missing-colon", 2, 1},
      {"a missing colon in braces", "a: {b, c: 2}\n", "yaml-missing-colon", 1, 5},
      {"an open bracket", "a: [1, 2\n", "yaml-syntax", 2, 1},
      {"an open brace", "a: {b: 1\nc: 2\n", "yaml-syntax", 2, 2},
      {"a bracket that closes nothing", "a: 1]\nb: ]\n", "yaml-syntax", 2, 4},
      {"an open quote", "a: \"one\nb: 2\n", "yaml-open-quote", 1, 4},
      {"an open single quote", "a: 'it''s\nb: 2\n", "yaml-open-quote", 1, 4},
      {"an open quote in the last line", "a: \"one", "yaml-syntax", 1, 8},
      {"a colon in a text", "note: Invented: an example\n", "yaml-syntax", 1, 15},
      {"text behind a quote", "a: \"x\" y\n", "yaml-syntax", 1, 8},
      {"a wrong sign", "a: @home\n", "yaml-syntax", 1, 4},
      {"a wrong escape", "a: \"\\q\"\n", "yaml-syntax", 1, 7},
      {"a wrong indent", "a:\n    b: 1\n  c: 2\n", "yaml-syntax", 3, 3},
  };
}

}  // namespace

TEST_CASE("each danger is refused with its code and its place") {
  for (const Case& c : cases()) {
    INFO(c.name);
    const auto out = document::read(c.text, "bad.yaml");
    CHECK_FALSE(out);
    REQUIRE_FALSE(out.findings.empty());
    const Finding& f = out.findings.front();
    INFO(document::excerpt(f, c.text));
    CHECK(f.code == c.code);
    CHECK(f.severity == Severity::error);
    CHECK(f.mark.file == "bad.yaml");
    CHECK(f.mark.line >= 1);
    CHECK(f.mark.column >= 1);
    if (c.line > 0) {
      CHECK(f.mark.line == c.line);
      CHECK(f.mark.column == c.column);
    }
    CHECK_FALSE(f.message.empty());
    CHECK_FALSE(f.advice.empty());
  }
}

TEST_CASE("a name written twice names both places") {
  const auto out = document::read("a: 1\nbox: {\"b\": 1}\nc: 3\nbox: 2\n", "m.yaml");
  REQUIRE(out.findings.size() == 1);
  const Finding& f = out.findings[0];
  CHECK(f.message.find("\"box\"") != std::string::npos);
  CHECK(f.mark.line == 4);
  CHECK(f.mark.length == 3);
  REQUIRE(f.other);
  CHECK(f.other->line == 2);
  CHECK(f.other->column == 1);
  CHECK(f.other_note == "first written here");
}

TEST_CASE("a bracket that is never closed is shown where it opens") {
  const auto out = document::read("a: 1\nb: [1, 2\n", "m.yaml");
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings[0].code == "yaml-syntax");
  REQUIRE(out.findings[0].other);
  CHECK(out.findings[0].other->line == 2);
  CHECK(out.findings[0].other->column == 4);
}

TEST_CASE("the same name in different blocks is no trouble") {
  CHECK(document::read("p: {a: 1}\nq: {a: 2, \"A\": 3}\na: [{a: 1}, {a: 1}]\n", "m.yaml"));
}

TEST_CASE("every defect that can be told apart is named in one go") {
  const auto out = document::read("a: 1\na: 2\nb: &x 1\nc: *x\n<<: {d: 1}\n[e]: 1\nf: !t 1\n", "m.yaml");
  std::vector<std::string> codes;
  for (const Finding& f : out.findings) codes.push_back(f.code);
  CHECK(codes == std::vector<std::string>{"yaml-duplicate-key", "yaml-anchor", "yaml-alias", "yaml-merge-key",
                                          "yaml-key-not-text", "yaml-tag"});
}

TEST_CASE("an alias bomb is refused before it can grow") {
  std::string text = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n";
  for (int i = 1; i < 12; ++i) {
    const std::string before = "*a" + std::to_string(i - 1);
    text += "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [" + before + ", " + before + "]\n";
  }
  CHECK_FALSE(document::read(text, "m.yaml"));
}

TEST_CASE("as many values are read as the limit says, one more is refused") {
  const auto text = [](int scalars) { return "a: [" + repeat("1,", scalars) + "]\n"; };
  // The root, the name, the list and the scalars count.
  const int most = static_cast<int>(document::most_nodes);
  CHECK(document::read(text(most - 3), "m.yaml"));
  const auto out = document::read(text(most - 2), "m.yaml");
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings[0].code == "yaml-too-many-values");
}

TEST_CASE("a text may be as large as the limit says") {
  const std::string head = "a: 1\n#";
  const std::string fits = head + std::string(document::largest_text_bytes - head.size(), 'x');
  CHECK(document::read(fits, "m.yaml"));
  const auto out = document::read(fits + "x", "m.yaml");
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings[0].code == "file-too-large");
}

TEST_CASE("a file that is mostly wrong gives a bounded list") {
  CHECK(document::read(repeat("\x01\n", 1000), "m.yaml").findings.size() == 20);
  CHECK(document::read("a: 1\n" + repeat("a: 1\n", 1000), "m.yaml").findings.size() == 100);
}

TEST_CASE("braces in a person's words do not become placeholders") {
  const auto out = document::read("\"{0}\": 1\n\"{0}\": 2\n", "m.yaml");
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings[0].message.find("\"{{0}}\"") != std::string::npos);
}
