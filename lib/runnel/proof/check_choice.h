#pragma once
// Checks the claims about the cheapest choice of pipe, from the numbers of the choice alone. It shares no
// code with whatever found the choice and does not know how it was found.
#include <string>
#include <vector>

#include "runnel/network/choice.h"

namespace runnel::proof {

/// Empty if the claim holds; otherwise the first thing that is wrong with it, in words. Heads are compared to
/// a nanometre and costs to a part in 10^9, so a cheaper choice that passes by less than a nanometre a branch
/// is not ruled out.
std::string check(const network::TreeChoice& choice, const network::TreeProof& proof);
std::string check(const network::TreeChoice& choice, const network::SplitProof& proof);

/// Empty if the options (one a branch, by number) meet every floor and need and have the cost claimed.
std::string check_options(const network::TreeChoice& choice, const std::vector<int>& options, double cost);
/// The same for shares: `shares[b][k]` of branch b is laid in its option k. Crests between the ends (needs)
/// are not checked, since whoever splits lines makes each crest the end of a branch.
std::string check_shares(const network::TreeChoice& choice, const std::vector<std::vector<double>>& shares,
                         double cost);

}  // namespace runnel::proof
