#include "runnel/document/write.h"

#include <catch2/catch.hpp>

#include "runnel/document/tree.h"

using namespace runnel;
using document::Node;

namespace {

/// The same kinds, texts and keys all the way down.
bool alike(const Node& a, const Node& b) {
  if (a.kind != b.kind || a.text != b.text || a.items.size() != b.items.size() ||
      a.entries.size() != b.entries.size())
    return false;
  for (std::size_t i = 0; i < a.items.size(); ++i)
    if (!alike(*a.items[i], *b.items[i])) return false;
  for (std::size_t i = 0; i < a.entries.size(); ++i)
    if (a.entries[i].key != b.entries[i].key || !alike(*a.entries[i].value, *b.entries[i].value))
      return false;
  return true;
}

std::unique_ptr<Node> tree_of(const std::string& text) {
  auto read = document::read(text, "a.yaml");
  for (const auto& finding : read.findings) UNSCOPED_INFO(finding.code << ": " << finding.message);
  INFO(text);
  REQUIRE(read);
  return std::move(*read.value);
}

void check_round_trip(const std::string& text) {
  const auto tree = tree_of(text);
  const std::string again = document::written(*tree);
  INFO(again);
  CHECK(alike(*tree, *tree_of(again)));
}

}  // namespace

TEST_CASE("a tree that is written reads as the same tree") {
  SECTION("blocks, lists and what is left empty") {
    check_round_trip("a: 1\nb:\n  c: [1, [2, 3], {d: e}]\n  f:\n  g: ~\nlong:\n  - x y\n  - {k: v}\n");
  }
  SECTION("texts that need quotes") {
    check_round_trip(
        "a: \"x: y\"\nb: 'it''s # no remark'\nc: \"\"\nd: \"- 5 m\"\ne: -5 m\nf: \"null\"\n"
        "g: \"a, b\"\nh: {i: \"a, b\", \"j, k\": \"[l]\"}\n\"m: n\": \"tab\\there\"\n");
  }
  SECTION("a text of several lines") {
    check_round_trip("note: |\n  one\n  two: three\nb: >\n  four\n  five\n");
  }
  SECTION("texts that are stated as clock times or with an inch sign") {
    check_round_trip("a: {from: \"06:00\", size: 1-1/2 in, inch: 5\"}\nb: 06:00\nc: 1/2\"\n");
  }
  SECTION("a deep tree") { check_round_trip("a: {b: {c: {d: {e: [[[1], 2], 3]}}}}\n"); }
}
