#pragma once
// What follows from the works and is judged by no rule: amounts of stone, doses of bleach, what the box keeps
// back, what the bucket tests say.
#include <string>
#include <vector>

#include "runnel/review/measure.h"
#include "runnel/review/works_review.h"

namespace runnel::review {

void add_facts(const SeenWorks& seen, std::vector<Fact>& out);

/// Whether the yield falls, as far as the spring's log shows, and how it changed from one entry to the next.
std::vector<Fact> log_facts(const network::System& system);

}  // namespace runnel::review
