// Pipes by what people call them.
#include "runnel/pipes/called.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace runnel::pipes;

namespace {

std::vector<std::string> names(std::string_view call) {
  std::vector<std::string> out;
  for (const Pipe* pipe : called(standard_catalogue(), call)) out.push_back(pipe->name);
  return out;
}

}  // namespace

TEST_CASE("a pipe is found by material, schedule and size in any order") {
  CHECK(names("sch40 2 galvanised") == std::vector<std::string>{"Galvanized Sch40 2 in"});
  CHECK(names("2 in galv sch 40") == std::vector<std::string>{"Galvanized Sch40 2 in"});
  CHECK(names("sdr17 hdpe 32") == std::vector<std::string>{"PE100 SDR17 32 mm"});
  CHECK(names("1 1/4 in pe4710 dr 11") == std::vector<std::string>{"PE4710 DR11 1-1/4 in"});
}

TEST_CASE("a pipe is found by what is printed on it") {
  CHECK(names("PE 100 DN32 PN 16") == std::vector<std::string>{"PE100 SDR11 32 mm"});
  CHECK(names("pe100 dn 63 pn10") == std::vector<std::string>{"PE100 SDR17 63 mm"});
  CHECK(names("HDPE PE100 d40 SDR11") == std::vector<std::string>{"PE100 SDR11 40 mm"});
  CHECK(names("pe 32") == names("hdpe 32"));
}

TEST_CASE("a call that says little means several pipes") {
  const auto poly = names("1-1/4 poly");
  CHECK(poly.size() > 5);
  for (const std::string& name : poly) {
    CHECK(name.rfind("PE", 0) == 0);
    CHECK(name.find("1-1/4 in") != std::string::npos);
  }
  CHECK(names("hdpe 32") == std::vector<std::string>{"PE100 SDR11 32 mm", "PE100 SDR17 32 mm"});
  CHECK(names("sch40 2").size() == 3);  // PVC, plain and galvanized steel
}

TEST_CASE("a pipe is found by the pressure that is printed on it") {
  CHECK(names("32 pn10") == std::vector<std::string>{"PE100 SDR17 32 mm"});
  CHECK(names("32mm PN 16") == std::vector<std::string>{"PE100 SDR11 32 mm"});
  CHECK(names("1 inch poly 100 psi") == std::vector<std::string>{"PE3608 DR17 1 in", "PE3608 SIDR15 1 in",
                                                                 "PE4710 DR21 1 in", "PE4710 SIDR19 1 in"});
  CHECK(names("poly 1\" dr11") == std::vector<std::string>{"PE3608 DR11 1 in", "PE4710 DR11 1 in"});
  CHECK(names("32 pn6").empty());
  CHECK_FALSE(only_a_size("32 pn10"));
}

TEST_CASE("what keeps a call from being found is told") {
  CHECK(unknown_word(standard_catalogue(), "garden hose 3/4") == "garden");
  CHECK(unknown_word(standard_catalogue(), "pvc 40 mm").empty());
  const auto sizes = sizes_called(standard_catalogue(), "pvc 40 mm");
  CHECK(sizes.size() == 10);
  CHECK(std::find(sizes.begin(), sizes.end(), "1-1/2 in") != sizes.end());
  CHECK(sizes_called(standard_catalogue(), "32 mm").empty());
}

TEST_CASE("a word or a size that nothing has finds nothing") {
  CHECK(names("copper 1 in").empty());
  CHECK(names("poly 5 in").empty());
  CHECK(names("").empty());
  CHECK(names("dr1 1 in").empty());  // no part of DR11
}

TEST_CASE("a size alone is told from a name") {
  CHECK(only_a_size("32 mm"));
  CHECK(only_a_size("1-1/4 in"));
  CHECK(only_a_size("1 1/4"));
  CHECK_FALSE(only_a_size("hdpe 32"));
  CHECK_FALSE(only_a_size("poly"));
  CHECK_FALSE(only_a_size(""));
}

TEST_CASE("a long list is told whole, family by family") {
  const auto& all = standard_catalogue();
  CHECK(listed({}).empty());
  CHECK(listed({all.find("PE100 SDR11 32 mm")}) == "PE100 SDR11 32 mm");
  CHECK(listed({all.find("PE100 SDR11 32 mm"), all.find("PE100 SDR17 32 mm"), all.find("PE100 SDR11 40 mm"),
                all.find("Steel Sch40 2 in"), all.find("PE100 SDR17 40 mm")}) ==
        "PE100 SDR11, SDR17 of 32 mm, 40 mm; Steel Sch40 2 in");
  CHECK(listed({all.find("PE3608 DR7 1-1/4 in"), all.find("PE3608 DR7 1-1/2 in"),
                all.find("PE3608 DR9 1-1/4 in")}) == "PE3608 DR7 of 1-1/4 in, 1-1/2 in; PE3608 DR9 1-1/4 in");
  // Every rating of every family is there.
  for (const char* call : {"poly", "1-1/4 in", "pvc"}) {
    const auto meant = called(all, call);
    const std::string text = listed(meant);
    for (const auto* pipe : meant) {
      const auto first = pipe->name.find(' '), second = pipe->name.find(' ', first + 1);
      CHECK_THAT(text, Catch::Contains(pipe->name.substr(0, first)) &&
                           Catch::Contains(pipe->name.substr(first, second - first)) &&
                           Catch::Contains(pipe->nominal));
    }
    CHECK(text.find("more") == std::string::npos);
  }
}
