#pragma once
// What an answer comes to. The sentence, the exit code, `good` in JSON and the colour all follow from this
// one value, and it follows from the findings, so that none of them can say something else.
#include <string>
#include <vector>

#include "runnel/base/finding.h"

namespace runnel::verdict {

/// From best to worst.
enum class Ruling {
  holds,           ///< all that is asked was judged and comes, in every state the system will be in
  only_if,         ///< the same, under a condition that the sentence names
  cannot_be_said,  ///< nothing is known to be wrong, and something that decides is not judged
  fails,           ///< something asked does not come, or something will break or stand still
  no_answer,       ///< no state was found in which the balances close
  unproved,        ///< a state was found and did not pass its check: none of its figures may be used
};

/// True for `holds` and `only_if`: what a script may take for a yes.
constexpr bool is_good(Ruling ruling) { return ruling <= Ruling::only_if; }
/// False where there are no figures that anybody may rely on.
constexpr bool has_figures(Ruling ruling) { return ruling <= Ruling::fails; }

/// The best ruling that one finding leaves possible. An error never leaves more than `fails`; a warning
/// lowers the ruling by its code, if it says that something is not judged or states a condition. Notes and
/// all other warnings leave it as it is.
Ruling bearing(const Finding& finding);

/// The worst bearing of all findings.
Ruling ruling_of(const std::vector<Finding>& findings);

}  // namespace runnel::verdict
