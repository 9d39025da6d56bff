#include "runnel/network/part_table.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "runnel/losses/fittings.h"

using namespace runnel::network;

TEST_CASE("every kind of part has its row at its place") {
  for (std::size_t i = 0; i < part_kind_rows().size(); ++i) {
    CHECK(static_cast<std::size_t>(part_kind_rows()[i].kind) == i);
    CHECK(&part_kind_row(part_kind_rows()[i].kind) == &part_kind_rows()[i]);
  }
  // The last kind of the enumeration, so that a new one without a row fails here.
  CHECK(part_kind_rows().back().kind == PartKind::fitting);
}

TEST_CASE("the words of parts are there once, and each kind has a word") {
  const auto& words = part_words();
  CHECK(std::set<std::string>(words.begin(), words.end()).size() == words.size());
  std::set<PartKind> kinds;
  for (const std::string& word : words) kinds.insert(kind_of_part(word));
  CHECK(kinds.size() == part_kind_rows().size());
  for (const std::string& published : runnel::losses::fitting_types())
    CHECK(std::count(words.begin(), words.end(), published) == 1);
}

TEST_CASE("words name the kind that a person means") {
  CHECK(kind_of_part("ball_valve") == PartKind::valve);
  CHECK(kind_of_part("valve") == PartKind::valve);
  CHECK(kind_of_part("air_valve") == PartKind::air_valve);
  CHECK(kind_of_part("reducing_valve") == PartKind::reducing_valve);
  CHECK(kind_of_part("check_valve") == PartKind::check_valve);
  CHECK(kind_of_part("check_valve_swing") == PartKind::check_valve);
  CHECK(kind_of_part("foot_valve") == PartKind::check_valve);
  CHECK(kind_of_part("union") == PartKind::union_);
  CHECK(kind_of_part("elbow_90") == PartKind::fitting);
}

TEST_CASE("a key of a part shows how it is written, by its own name") {
  for (const PartKindRow& row : part_kind_rows())
    for (const PartKey& key : row.keys)
      CHECK(std::string(key.example).rfind(std::string(key.key) + ": ", 0) == 0);
}
