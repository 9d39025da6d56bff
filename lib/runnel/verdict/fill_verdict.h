#pragma once
// What a filling means to the person who asked: when it is full, whether it lasts, what is lost.
#include <string>
#include <vector>

#include "runnel/filling/fill.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

struct FillVerdict {
  bool good = false;  ///< it ran, every `full_within` is met, no finding is an error
  Sentence sentence;
  std::vector<AskResult> asks;    ///< the `full_within` ones, in the model's order
  std::vector<Finding> findings;  ///< errors first, then warnings, then notes
};

/// Never throws. A run that gave no answer judges nothing.
FillVerdict judge_fill(const network::System& system, const filling::FillHistory& history,
                       const std::vector<Finding>& more = {});

/// One tank in words: "full after {0}", "never full: it tends to {0}", ...
Sentence tank_sentence(const network::System& system, const filling::FillHistory& history,
                       const filling::StorageHistory& tank);

}  // namespace runnel::verdict
