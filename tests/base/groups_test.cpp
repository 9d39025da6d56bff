#include "runnel/base/groups.h"

#include <catch2/catch.hpp>
#include <random>

using runnel::base::Groups;

TEST_CASE("what is joined is together, and nothing else") {
  Groups groups(5);
  CHECK(groups.join(0, 1));
  CHECK(groups.join(3, 4));
  CHECK(groups.together(0, 1));
  CHECK_FALSE(groups.together(1, 3));
  CHECK(groups.join(1, 4));
  CHECK(groups.together(0, 3));
  CHECK_FALSE(groups.join(0, 4));
  CHECK(groups.leader(2) == 2);
  groups.part(3);
  CHECK(groups.size() == 3);
  CHECK_FALSE(groups.together(0, 1));
}

TEST_CASE("random joins group what colouring them one by one groups") {
  std::mt19937 random(11);
  for (int n = 1; n < 60; ++n) {
    const auto size = static_cast<std::size_t>(n);
    Groups groups(size);
    std::vector<int> colour(size);
    for (int i = 0; i < n; ++i) colour[static_cast<std::size_t>(i)] = i;
    for (int k = 0; k < n / 2; ++k) {
      const int a = static_cast<int>(random() % size), b = static_cast<int>(random() % size);
      const int from = colour[static_cast<std::size_t>(a)], to = colour[static_cast<std::size_t>(b)];
      CHECK(groups.join(a, b) == (from != to));
      for (int& c : colour)
        if (c == from) c = to;
    }
    for (int a = 0; a < n; ++a)
      for (int b = 0; b < n; ++b)
        REQUIRE(groups.together(a, b) ==
                (colour[static_cast<std::size_t>(a)] == colour[static_cast<std::size_t>(b)]));
  }
}
