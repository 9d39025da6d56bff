#include "runnel/sizing/shortfall.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/drawn_needs.h"
#include "runnel/sizing/bounds.h"
#include "runnel/sizing/design_needs.h"
#include "runnel/sizing/head_grid.h"

namespace runnel::sizing {
namespace {

using network::Model;
using network::TreeChoice;

/// The head that is missing with the widest pipes; none is if this is not above zero.
double missing_m(const TreeChoice& choice) { return least_head_m(choice) - choice.head_m; }

/// Only what the way to one branch needs. A second line beside each line leaves a quarter of its losses: two
/// equal pipes carry half of the flow each, and losses go about as its square.
TreeChoice way_to(const TreeChoice& choice, std::size_t branch, double loss_share) {
  TreeChoice way = choice;
  std::vector<bool> on_way(choice.branches.size() + 1, false);
  for (std::size_t b = branch + 1; b > 0; b = static_cast<std::size_t>(choice.branches[b - 1].above))
    on_way[b] = true;
  for (std::size_t b = 0; b < way.branches.size(); ++b) {
    if (b != branch) way.branches[b].floor_m = nothing;
    for (auto& option : way.branches[b].options) {
      if (!on_way[b + 1]) option.need_m = nothing;
      if (choice.branches[b].above > 0) {  // not the step down to the source itself
        const double saved_m = (1.0 - loss_share) * option.loss_m;
        option.loss_m -= saved_m;
        option.need_m -= saved_m;  // a bound: the loss up to a crest is at most that of the whole line
      }
    }
  }
  return way;
}

/// The same with nothing but the losses of whole lines and what the ends ask for.
TreeChoice without_crests(TreeChoice choice) {
  for (auto& branch : choice.branches)
    for (auto& option : branch.options) option.need_m = nothing;
  return choice;
}

/// What the place could have instead, found by halving until all floors are met.
std::optional<double> flow_instead(const Model& model, const std::string& place, const PriceList& prices) {
  Model less = network::with_draws_asked(model);
  for (auto& outlet : less.outlets)
    if (outlet.name == place) outlet.draws.clear();  // what is drawn there is now a need alone
  std::vector<network::Ask*> asks;
  double asked = 0.0;
  for (auto& ask : less.asks)
    if (ask.at == place && ask.kind == network::AskKind::flow) {
      asks.push_back(&ask);
      asked = std::max(asked, ask.flow.si());
    }
  if (asks.empty()) return std::nullopt;
  const auto met = [&](double share) {
    for (network::Ask* ask : asks) ask->flow = Flow::from_si(share * asked);
    const auto tree = design_tree(less, prices);
    if (!tree) return false;
    for (std::size_t b = 0; b < tree.value->ends.size(); ++b)
      if (tree.value->ends[b] >= 0 && missing_m(way_to(tree.value->choice, b, 1.0)) > 0.0) {
        const auto system = network::resolve(laid(less, sizes_that_fit(less)));
        if (system && system.value->place_name(tree.value->ends[b]) == place) return false;
      }
    return true;
  };
  double low = 0.0, high = 1.0;
  if (!met(1e-6)) return std::nullopt;
  for (int i = 0; i < 30; ++i) {
    const double middle = 0.5 * (low + high);
    (met(middle) ? low : high) = middle;
  }
  return low * asked;
}

}  // namespace

std::vector<Shortfall> shortfalls(const Model& model, const DesignTree& tree, const PriceList& prices) {
  std::vector<Shortfall> all;
  const auto system = network::resolve(laid(model, sizes_that_fit(model)));
  if (!system) return all;
  for (std::size_t b = 0; b < tree.ends.size(); ++b) {
    if (tree.ends[b] < 0) continue;
    const double missing = missing_m(way_to(tree.choice, b, 1.0));
    if (!(missing > 0.0)) continue;
    Shortfall shortfall;
    shortfall.place = system.value->place_name(tree.ends[b]);
    shortfall.short_m = missing;
    shortfall.crest = !(missing_m(without_crests(way_to(tree.choice, b, 1.0))) > 0.0);
    shortfall.flow_m3s = flow_instead(model, shortfall.place, prices);
    shortfall.second_line_m = -missing_m(way_to(tree.choice, b, 0.25));
    all.push_back(std::move(shortfall));
  }
  std::sort(all.begin(), all.end(),
            [](const Shortfall& a, const Shortfall& c) { return a.short_m > c.short_m; });
  return all;
}

}  // namespace runnel::sizing
