// The tree of good texts: kinds, order, marks.
#include "runnel/document/tree.h"

#include <catch2/catch.hpp>

using namespace runnel;
using document::Node;

namespace {

std::unique_ptr<Node> tree(std::string_view text) {
  auto out = document::read(text, "m.yaml");
  for (const Finding& f : out.findings) UNSCOPED_INFO(document::excerpt(f, text));
  REQUIRE(out);
  REQUIRE(out.findings.empty());
  return std::move(*out.value);
}

void check_mark(const Mark& mark, int line, int column, int length) {
  CHECK(mark.file == "m.yaml");
  CHECK(mark.line == line);
  CHECK(mark.column == column);
  CHECK(mark.length == length);
}

}  // namespace

TEST_CASE("maps, lists and scalars keep their order, their text and their places") {
  const auto root = tree(
      "name: Larkspur draw\n"
      "boxes:\n"
      "  upper box: {yield: 1.9 gal/min, lip: \"12'-6\\\"\"}\n"
      "points: [[0, 4755.8], [120, 4741]]\n");
  REQUIRE(root->kind == Node::Kind::map);
  REQUIRE(root->entries.size() == 3);
  CHECK(root->entries[0].key == "name");
  check_mark(root->entries[0].key_mark, 1, 1, 4);
  check_mark(root->find("name")->mark, 1, 7, 13);
  const Node* box = root->find("boxes")->find("upper box");
  REQUIRE(box != nullptr);
  check_mark(box->mark, 3, 14, 1);
  CHECK(box->find("yield")->text == "1.9 gal/min");
  CHECK_FALSE(box->find("yield")->quoted);
  check_mark(box->find("yield")->mark, 3, 22, 11);
  CHECK(box->find("lip")->text == "12'-6\"");
  CHECK(box->find("lip")->quoted);
  check_mark(box->find("lip")->mark, 3, 40, 9);
  const Node* points = root->find("points");
  REQUIRE(points->items.size() == 2);
  CHECK(points->items[1]->items[1]->text == "4741");
  check_mark(points->items[1]->items[1]->mark, 4, 29, 4);
  CHECK(root->find("nothing") == nullptr);
}

TEST_CASE("nothing, ~ and null are missing values, the quoted word is a text") {
  const auto root = tree("a:\nb: ~\nc: null\nd: \"null\"\ne: {f: , g: NULL}\nh:\n");
  for (const char* key : {"a", "b", "c", "h"}) {
    INFO(key);
    CHECK(root->find(key)->kind == Node::Kind::missing);
  }
  check_mark(root->find("a")->mark, 1, 1, 1);  // where nothing is written: at the key
  check_mark(root->find("b")->mark, 2, 4, 1);
  check_mark(root->find("h")->mark, 6, 1, 1);
  CHECK(root->find("d")->kind == Node::Kind::scalar);
  CHECK(root->find("d")->text == "null");
  CHECK(root->find("e")->find("f")->kind == Node::Kind::missing);
  CHECK(root->find("e")->find("g")->kind == Node::Kind::missing);
}

TEST_CASE("words that YAML readers like to change stay as they were written") {
  const auto root = tree("a: NO\nb: 010\nc: .nan\nd: 1e400\ne: 0x1F\nf: 1_000\ng: yes\n");
  CHECK(root->find("a")->text == "NO");
  CHECK(root->find("b")->text == "010");
  CHECK(root->find("c")->text == ".nan");
  CHECK(root->find("d")->text == "1e400");
  CHECK(root->find("e")->text == "0x1F");
  CHECK(root->find("f")->text == "1_000");
  CHECK(root->find("g")->text == "yes");
}

TEST_CASE("line ends of every kind and a byte order mark change nothing") {
  const std::string unix_ends = "a: 1\nb:\n  - x\n  - |\n    two\n    lines\nc: \"p\n  q\"\n";
  std::string windows;
  for (const char c : unix_ends) windows += c == '\n' ? std::string("\r\n") : std::string(1, c);
  const auto plain = tree(unix_ends);
  const auto other = tree("\xEF\xBB\xBF" + windows);
  for (const auto* root : {plain.get(), other.get()}) {
    CHECK(root->find("a")->text == "1");
    check_mark(root->find("a")->mark, 1, 4, 1);
    CHECK(root->find("b")->items[1]->text == "two\nlines\n");
    CHECK(root->find("c")->text == "p q");
    check_mark(root->find("b")->items[0]->mark, 3, 5, 1);
  }
}

TEST_CASE("comments, one document start and one document end are no trouble") {
  const auto root =
      tree("%YAML 1.2\n# yaml-language-server: $schema=x\n---\na: 1 # remark\n...\n# the end\n");
  CHECK(root->find("a")->text == "1");
}

TEST_CASE("tabs are allowed where they indent nothing") {
  const auto root = tree("a: 1\t# remark\n\t\n\t# remark\nb: x\ty\n");
  CHECK(root->find("b")->text == "x\ty");
}

TEST_CASE("a place within a scalar is found where it can be exact") {
  const auto root = tree("a: 12 furlongs\nb: \"12 furlongs\"\nc: \"1\\t2\"\n");
  check_mark(document::within(*root->find("a"), 3, 8), 1, 7, 8);
  check_mark(document::within(*root->find("b"), 3, 8), 2, 8, 8);
  check_mark(document::within(*root->find("c"), 1, 1), 3, 4, 6);  // an escape: the whole scalar
}

TEST_CASE("names in any script are read, and the caret counts characters") {
  const auto root = tree("ключ: значение\n水: 槽\n");
  CHECK(root->find("ключ")->text == "значение");
  CHECK(root->find("ключ")->mark.length == 8);
  CHECK(root->find("水")->text == "槽");
}

TEST_CASE("thirty-two levels are read") {
  std::string text = "a: ";
  for (int i = 0; i < 31; ++i) text += '[';
  for (int i = 0; i < 31; ++i) text += ']';
  CHECK(tree(text)->find("a")->kind == Node::Kind::sequence);
}
