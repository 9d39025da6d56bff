#pragma once
// What follows from the works and no rule judges: amounts of stone, doses of bleach, what the box keeps back,
// what the bucket tests say.
#include <string>
#include <vector>

#include "runnel/review/works_review.h"
#include "runnel/works/settling.h"

namespace runnel::review {

Fact settling_fact(const std::string& box, const works::SettlingAnswer& kept);

void add_facts(const network::System& system, const network::Collection& works, const network::Box& box,
               std::vector<Fact>& out);

/// Whether the spring falls, as far as its log shows; nothing for a log of fewer than three days.
std::vector<Fact> log_facts(const network::System& system);

}  // namespace runnel::review
