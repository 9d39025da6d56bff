#pragma once
// What the steady answer finds that no filling looks at, told beside a filling. Not for users of the library.
#include <vector>

#include "runnel/verdict/fill_verdict.h"

namespace runnel::verdict {

/// The findings of the steady answer that bear on the ruling and are not followed in a filling; with
/// `followed`, those too.
std::vector<Finding> of_flow(const FillSeen& seen, bool followed);

/// Says the worst of them where it fails the answer or leaves it open, and nothing else has been said.
void say_of_flow(const FillSeen& seen, const FillVerdict& verdict, Sentence& s);

/// Says that all is met, and under which conditions: those found by the run itself, and those of the steady
/// answer.
void all_met(const FillSeen& seen, const FillVerdict& verdict, Sentence& s);

}  // namespace runnel::verdict
