#include "runnel/report/proof_words.h"

#include <catch2/catch.hpp>

using runnel::report::proof_words;

TEST_CASE("a proof tells how much it looked at") {
  runnel::network::Proof proof;
  CHECK(proof_words(proof).empty());  // of a state that nobody checked
  proof.extent = {.places = 3, .lines = 4, .reaches = 25, .not_full = 7, .rules = 61};
  CHECK(
      proof_words(proof) ==
      std::vector<std::string>{
          "what comes to each of 3 places equals what goes, springs, draws and spills counted",
          "the energy along 4 pipelines in 25 reaches, 7 of them not full: friction and local losses worked "
          "out a second time, in longer arithmetic",
          "61 one-way and bounded rules: lips, draws, taps, valves, lines that stand still, and no grade "
          "line "
          "below what its pipe allows"});
}
