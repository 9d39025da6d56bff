#include "runnel/sizing/split_program.h"

#include <algorithm>
#include <cmath>

#include "runnel/sizing/linear_programme.h"

namespace runnel::sizing {
namespace {

using network::TreeBranch;
using network::TreeChoice;

/// Columns: the fall of head from the source to the end of each branch, then the shares, branch by branch.
/// Rows: for each branch, that its fall is not less than what it loses; then for each, that its shares make
/// the whole.
LinearProgramme programme_of(const TreeChoice& choice, const std::vector<std::vector<SplitCrest>>& crests) {
  LinearProgramme programme;
  for (const TreeBranch& branch : choice.branches)
    programme.add_column(
        0.0, -LinearProgramme::endless,
        std::isfinite(branch.floor_m) ? choice.head_m - branch.floor_m : LinearProgramme::endless);
  std::vector<std::vector<LinearProgramme::Entry>> whole;
  for (std::size_t b = 0; b < choice.branches.size(); ++b) {
    const TreeBranch& branch = choice.branches[b];
    std::vector<LinearProgramme::Entry> fall{{b, 1.0}};
    if (branch.above > 0) fall.push_back({static_cast<std::size_t>(branch.above) - 1, -1.0});
    whole.emplace_back();
    for (const auto& option : branch.options) {
      const std::size_t share = programme.add_column(option.cost, 0.0);
      fall.push_back({share, -option.loss_m});
      whole.back().push_back({share, 1.0});
    }
    programme.add_row(fall, 0.0, LinearProgramme::endless);
  }
  for (const auto& shares : whole) programme.add_row(shares, 1.0, 1.0);
  for (std::size_t b = 0; b < crests.size(); ++b)
    for (const SplitCrest& crest : crests[b]) {
      std::vector<LinearProgramme::Entry> fall;
      if (const int above = choice.branches[b].above; above > 0)
        fall.push_back({static_cast<std::size_t>(above) - 1, 1.0});
      add_crest(programme, crest, whole[b], std::move(fall), choice.head_m - crest.sink_m);
    }
  return programme;
}

void read_shares(const TreeChoice& choice, const double* solution, SplitAnswer& answer) {
  answer.head_m.assign(1, choice.head_m);
  for (const TreeBranch& branch : choice.branches) {
    std::vector<double> shares;
    double whole = 0.0;
    for (std::size_t k = 0; k < branch.options.size(); ++k) {
      shares.push_back(*solution > 1e-12 ? *solution : 0.0);
      whole += shares.back();
      ++solution;
    }
    double loss_m = 0.0;
    for (std::size_t k = 0; k < shares.size(); ++k) {
      shares[k] /= whole;
      loss_m += shares[k] * branch.options[k].loss_m;
      answer.cost += shares[k] * branch.options[k].cost;
    }
    answer.head_m.push_back(answer.head_m[static_cast<std::size_t>(branch.above)] - loss_m);
    answer.shares.push_back(std::move(shares));
  }
}

/// Prices from the ends up, so that head is sold at each place for exactly what it was bought; then what they
/// prove.
network::SplitProof proof_of(const TreeChoice& choice, const double* duals) {
  network::SplitProof proof;
  proof.price_per_m.assign(choice.branches.size(), 0.0);
  std::vector<double> dual_below(choice.branches.size() + 1, 0.0), price_below(dual_below);
  for (std::size_t b = choice.branches.size(); b-- > 0;) {
    const TreeBranch& branch = choice.branches[b];
    const double kept = std::isfinite(branch.floor_m) ? std::max(0.0, duals[b] - dual_below[b + 1]) : 0.0;
    const double price = kept + price_below[b + 1];
    proof.price_per_m[b] = price;
    dual_below[static_cast<std::size_t>(branch.above)] += duals[b];
    price_below[static_cast<std::size_t>(branch.above)] += price;
    double cheapest = std::numeric_limits<double>::infinity();
    for (const auto& option : branch.options)
      cheapest = std::min(cheapest, option.cost + price * option.loss_m);
    proof.cost += cheapest;
    if (kept > 0.0) proof.cost += kept * (branch.floor_m - choice.head_m);
  }
  return proof;
}

}  // namespace

void add_crest(LinearProgramme& programme, const SplitCrest& crest,
               const std::vector<LinearProgramme::Entry>& shares, std::vector<LinearProgramme::Entry> fall,
               double most_m) {
  std::vector<LinearProgramme::Entry> way;
  for (std::size_t k = 0; k < crest.loss_m.size() && crest.along > 0.0; ++k) {
    const std::size_t before = programme.add_column(0.0, 0.0);
    programme.add_row({{shares[k].column, 1.0}, {before, -1.0}}, 0.0, LinearProgramme::endless);
    fall.push_back({before, crest.loss_m[k] / crest.along});
    way.push_back({before, 1.0});
  }
  if (!way.empty()) programme.add_row(way, crest.along, crest.along);
  if (!fall.empty()) programme.add_row(fall, -LinearProgramme::endless, most_m);
}

SplitAnswer cheapest_split(const TreeChoice& choice, const std::vector<std::vector<SplitCrest>>& crests) {
  SplitAnswer answer;
  const auto without = programme_of(choice, {}).solve();
  if (!without) return answer;
  answer.proof = proof_of(choice, without->prices.data());
  const bool any = std::any_of(crests.begin(), crests.end(), [](const auto& of) { return !of.empty(); });
  const auto solved = any ? programme_of(choice, crests).solve() : without;
  if (!solved) return answer;
  answer.found = true;
  read_shares(choice, solved->columns.data() + choice.branches.size(), answer);
  return answer;
}

}  // namespace runnel::sizing
