#include "runnel/report/proof_words.h"

#include <fmt/format.h>

namespace runnel::report {

std::vector<std::string> proof_words(const network::Proof& proof) {
  if (!proof.extent) return {};
  const network::Proof::Extent& seen = *proof.extent;
  return {
      fmt::format("what comes to each of {} places equals what goes, springs, draws and spills counted",
                  seen.places),
      fmt::format("the energy along {} pipelines in {} reaches, {} of them not full: friction and local "
                  "losses worked out a second time, in longer arithmetic",
                  seen.lines, seen.reaches, seen.not_full),
      fmt::format("{} one-way and bounded rules: lips, draws, taps, valves, lines that stand still, and no "
                  "grade line below what its pipe allows",
                  seen.rules)};
}

}  // namespace runnel::report
