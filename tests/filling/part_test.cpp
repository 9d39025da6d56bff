// A network cut at its fixed heads.
#include "runnel/filling/part.h"

#include <catch2/catch.hpp>
#include <set>

using namespace runnel;
using filling::Part;
using steady::Kernel;

namespace {

losses::PipeFriction pipe(double bore_m) { return losses::PipeFriction({}, bore_m, 1.5e-6, 150.0, 1.3e-6); }

/// Tank 0 - place 1 - tank 2 - place 3 - place 4, and tank 0 - tank 2 directly; an opening at place 4.
Kernel two_tanks() {
  Kernel kernel;
  kernel.nodes.resize(5);
  kernel.nodes[0].fixed = kernel.nodes[2].fixed = true;
  kernel.add_pipe(0, 1, pipe(0.030), 10.0, 1.0);
  kernel.add_pipe(1, 2, pipe(0.031), 20.0, 2.0);
  kernel.add_pipe(2, 3, pipe(0.032), 30.0, 3.0);
  kernel.add_pipe(3, 4, pipe(0.033), 40.0, 4.0);
  kernel.add_opening(4, 0.0, 0.01, 2.5, 1.3e-6);
  kernel.add_pipe(0, 2, pipe(0.034), 50.0, 5.0);
  return kernel;
}

}  // namespace

TEST_CASE("every link is in one part and every free place too") {
  const Kernel whole = two_tanks();
  const std::vector<Part> parts = filling::cut_apart(whole);
  REQUIRE(parts.size() == 3);
  std::multiset<int> links, free_places;
  for (const Part& part : parts) {
    links.insert(part.links.begin(), part.links.end());
    for (const int v : part.nodes)
      if (!whole.nodes[static_cast<std::size_t>(v)].fixed) free_places.insert(v);
  }
  CHECK(links == std::multiset<int>{0, 1, 2, 3, 4, 5});
  CHECK(free_places == std::multiset<int>{1, 3, 4});
  // Two tanks that one line joins are a part of their own.
  CHECK(parts.back().links == std::vector<int>{5});
  CHECK(parts.back().nodes == std::vector<int>{0, 2});
}

TEST_CASE("a part's links have the laws they have in the whole") {
  const Kernel whole = two_tanks();
  for (const Part& part : filling::cut_apart(whole))
    for (std::size_t k = 0; k < part.links.size(); ++k) {
      const steady::Link& own = part.kernel.links[k];
      const steady::Link& link = whole.links[static_cast<std::size_t>(part.links[k])];
      REQUIRE(own.terms == link.terms);
      for (std::uint32_t t = 0; t < own.terms; ++t) {
        CHECK(part.kernel.terms[own.term + t].bore_m() == whole.terms[link.term + t].bore_m());
        CHECK(part.kernel.lengths_m[part.kernel.controls[own.forward].lengths + t] ==
              whole.lengths_m[whole.controls[link.forward].lengths + t]);
      }
      CHECK(part.kernel.controls[own.forward].quadratic_s2m5 == whole.controls[link.forward].quadratic_s2m5);
      CHECK(part.nodes[static_cast<std::size_t>(own.a)] == link.a);
      if (link.b >= 0) CHECK(part.nodes[static_cast<std::size_t>(own.b)] == link.b);
    }
}
