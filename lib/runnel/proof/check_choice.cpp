#include "runnel/proof/check_choice.h"

#include <algorithm>
#include <cmath>

namespace runnel::proof {
namespace {

using network::CostStep;
using network::TreeBranch;
using network::TreeChoice;

constexpr double endless_cost = std::numeric_limits<double>::infinity();
constexpr double nanometre = 1e-9;

double rounding_of(double cost) { return 1e-9 * std::max(1.0, std::fabs(cost)); }

std::string of_branch(std::size_t branch, const char* what) {
  return "branch " + std::to_string(branch) + ": " + what;
}

/// The claimed cost at a head.
double claimed(const std::vector<CostStep>& steps, double head_m) {
  const auto next = std::upper_bound(steps.begin(), steps.end(), head_m,
                                     [](double head, const CostStep& step) { return head < step.head_m; });
  return next == steps.begin() ? endless_cost : std::prev(next)->cost;
}

/// The branches that begin where branch b ends (b = -1: at the source).
std::vector<std::vector<std::size_t>> followers(const TreeChoice& choice) {
  std::vector<std::vector<std::size_t>> out(choice.branches.size() + 1);
  for (std::size_t b = 0; b < choice.branches.size(); ++b)
    out[static_cast<std::size_t>(choice.branches[b].above)].push_back(b);
  return out;
}

bool well_formed(const TreeChoice& choice) {
  for (std::size_t b = 0; b < choice.branches.size(); ++b) {
    const TreeBranch& branch = choice.branches[b];
    if (branch.above < 0 || static_cast<std::size_t>(branch.above) > b || branch.options.empty())
      return false;
    for (const auto& option : branch.options)
      if (!(option.loss_m >= 0.0) || !std::isfinite(option.loss_m) || !std::isfinite(option.cost))
        return false;
  }
  return std::isfinite(choice.head_m);
}

/// Costs fall and heads rise from step to step, and everything is a number.
bool falls_in_steps(const std::vector<CostStep>& steps) {
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (std::isnan(steps[i].head_m) || std::isnan(steps[i].cost)) return false;
    if (i > 0 && (!(steps[i].head_m > steps[i - 1].head_m) || !(steps[i].cost < steps[i - 1].cost)))
      return false;
  }
  return true;
}

/// Whether one option of a branch bears out the claim, which must not exceed the cost of the option plus the
/// claims below it. Both fall in steps as the head rises, so only the steps of the latter need be looked at.
bool option_allows(const std::vector<CostStep>& claim, const network::PipeOption& option, double floor_m,
                   const std::vector<const std::vector<CostStep>*>& below, double source_m) {
  const double least_m = std::max(option.need_m, floor_m + option.loss_m);
  std::vector<double> heads{least_m};
  for (const auto* steps : below)
    for (const CostStep& step : *steps) heads.push_back(std::max(least_m, step.head_m + option.loss_m));
  for (const double head_m : heads) {
    if (head_m > source_m) continue;  // no place stands higher than the source
    double cost = option.cost;
    for (const auto* steps : below) cost += claimed(*steps, head_m - option.loss_m);
    if (!(claimed(claim, head_m + nanometre) <= cost + rounding_of(cost))) return false;
  }
  return true;
}

}  // namespace

std::string check(const TreeChoice& choice, const network::TreeProof& proof) {
  if (!well_formed(choice)) return "the choice itself is not well formed";
  if (proof.branches.size() != choice.branches.size()) return "the claim does not speak of every branch";
  const auto below = followers(choice);
  const auto claims_at = [&](std::size_t place) {
    std::vector<const std::vector<CostStep>*> out;
    for (const std::size_t b : below[place]) out.push_back(&proof.branches[b]);
    return out;
  };
  for (std::size_t b = 0; b < choice.branches.size(); ++b) {
    if (!falls_in_steps(proof.branches[b])) return of_branch(b, "its claimed costs do not fall in steps");
    const auto claims_below = claims_at(b + 1);
    for (const auto& option : choice.branches[b].options)
      if (!option_allows(proof.branches[b], option, choice.branches[b].floor_m, claims_below, choice.head_m))
        return of_branch(b, "one of its options costs less than is claimed");
  }
  double least = 0.0;
  for (const auto* steps : claims_at(0)) least += claimed(*steps, choice.head_m);
  if (!(least >= proof.cost - rounding_of(proof.cost))) return "the claims of the branches add up to less";
  return {};
}

std::string check(const TreeChoice& choice, const network::SplitProof& proof) {
  if (!well_formed(choice)) return "the choice itself is not well formed";
  if (proof.price_per_m.size() != choice.branches.size()) return "there is not one price a branch";
  const auto below = followers(choice);
  // Lagrange multipliers: a branch buys head from the one above at its own price and sells it to the branches
  // below at theirs.
  double bound = 0.0;
  for (std::size_t b = 0; b < choice.branches.size(); ++b) {
    const double price = proof.price_per_m[b];
    if (!(price >= 0.0)) return of_branch(b, "its price is below zero");
    double cheapest = endless_cost;
    for (const auto& option : choice.branches[b].options)
      cheapest = std::min(cheapest, option.cost + price * option.loss_m);
    bound += cheapest;
    double kept = price;
    for (const std::size_t next : below[b + 1]) kept -= proof.price_per_m[next];
    const double floor_m = choice.branches[b].floor_m;
    if (std::isfinite(floor_m)) {
      if (kept < -1e-9 * std::max(1.0, price)) return of_branch(b, "head is sold dearer than it was bought");
      bound += kept * (floor_m - choice.head_m);  // heads are counted from the source, to lose no digits
    } else if (std::fabs(kept) > 1e-9 * std::max(1.0, price)) {
      return of_branch(b, "head has a price where nothing asks for it");
    }
  }
  if (!(bound >= proof.cost - rounding_of(proof.cost))) return "the prices prove less than is claimed";
  return {};
}

std::string check_options(const TreeChoice& choice, const std::vector<int>& options, double cost) {
  if (!well_formed(choice)) return "the choice itself is not well formed";
  if (options.size() != choice.branches.size()) return "there is not one option a branch";
  std::vector<std::vector<double>> shares;
  for (std::size_t b = 0; b < options.size(); ++b) {
    shares.emplace_back(choice.branches[b].options.size(), 0.0);
    if (options[b] < 0 || static_cast<std::size_t>(options[b]) >= shares.back().size())
      return of_branch(b, "there is no such option");
    shares.back()[static_cast<std::size_t>(options[b])] = 1.0;
  }
  std::vector<double> head_m{choice.head_m};
  for (std::size_t b = 0; b < options.size(); ++b) {
    const auto& option = choice.branches[b].options[static_cast<std::size_t>(options[b])];
    const double above_m = head_m[static_cast<std::size_t>(choice.branches[b].above)];
    if (above_m < option.need_m - nanometre) return of_branch(b, "a high point of it stands too high");
    head_m.push_back(above_m - option.loss_m);
  }
  return check_shares(choice, shares, cost);
}

std::string check_shares(const TreeChoice& choice, const std::vector<std::vector<double>>& shares,
                         double cost) {
  if (!well_formed(choice)) return "the choice itself is not well formed";
  if (shares.size() != choice.branches.size()) return "there are not shares of every branch";
  std::vector<double> head_m{choice.head_m};
  double sum = 0.0;
  for (std::size_t b = 0; b < shares.size(); ++b) {
    const auto& options = choice.branches[b].options;
    if (shares[b].size() != options.size()) return of_branch(b, "there is not one share an option");
    double whole = 0.0, loss_m = 0.0;
    for (std::size_t k = 0; k < options.size(); ++k) {
      if (!(shares[b][k] >= -1e-9)) return of_branch(b, "a share is below zero");
      whole += shares[b][k];
      loss_m += shares[b][k] * options[k].loss_m;
      sum += shares[b][k] * options[k].cost;
    }
    if (!(std::fabs(whole - 1.0) <= 1e-9)) return of_branch(b, "its shares are not the whole of it");
    head_m.push_back(head_m[static_cast<std::size_t>(choice.branches[b].above)] - loss_m);
    // A linear programme satisfies its constraints to a part in 10^9 of its figures.
    const double slack_m = nanometre * std::max(1.0, std::fabs(choice.head_m - choice.branches[b].floor_m));
    if (head_m.back() < choice.branches[b].floor_m - slack_m * static_cast<double>(b + 1))
      return of_branch(b, "its lower end has too little head");
  }
  if (!(std::fabs(sum - cost) <= rounding_of(cost))) return "it costs something else";
  return {};
}

}  // namespace runnel::proof
