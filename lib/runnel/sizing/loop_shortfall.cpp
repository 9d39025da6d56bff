// Needs that no pipe of a network with loops can meet.
#include <algorithm>

#include "runnel/sizing/loop_trials.h"
#include "runnel/sizing/shortfall.h"

namespace runnel::sizing {
namespace {

using network::Model;

// Halvings for what a place could have instead: to a thousandth of what is asked.
constexpr int halvings = 10;

/// Margins of the places with the widest pipes and all sources raised by `lift_m`; empty if no state was
/// found.
std::vector<double> margins_of_loops_m(LoopChoice choice, double lift_m = 0.0) {
  for (auto& node : choice.there.nodes) {
    if (node.fixed) node.head_m += lift_m;
    if (node.lip_m < steady::unbounded) node.lip_m += lift_m;
  }
  LoopTrials trials(choice);
  trials.margin_m(roomiest(choice));
  std::vector<double> margins;
  if (trials.state().outcome != steady::Outcome::settled) return margins;
  for (std::size_t v = 0; v < choice.there.nodes.size(); ++v) margins.push_back(trials.margin_at_m(v));
  return margins;
}

bool met_at(const LoopChoice& choice, std::size_t node, double lift_m) {
  const auto margins = margins_of_loops_m(choice, lift_m);
  return !margins.empty() && margins[node] >= 0.0;
}

/// How much higher all sources would have to be for one place to get what it asks for.
std::optional<double> missing_m(const LoopChoice& choice, std::size_t node) {
  constexpr double most_m = 1000.0, near_enough_m = 1e-4;
  double low = 0.0, high = 1.0;
  while (high < most_m && !met_at(choice, node, high)) low = high, high *= 2.0;
  if (high >= most_m) return std::nullopt;
  while (high - low > near_enough_m) {
    const double middle = 0.5 * (low + high);
    (met_at(choice, node, middle) ? high : low) = middle;
  }
  return high;
}

/// Scales what is asked at a place and at the taps on it; returns the greatest that was asked.
double scale_asks(Model& model, const std::string& place, double share) {
  double asked = 0.0;
  for (auto& ask : model.asks) {
    const auto* outlet = model.outlet(ask.at);
    if (ask.kind != network::AskKind::flow || (ask.at != place && !(outlet && outlet->on == place))) continue;
    asked = std::max(asked, ask.flow.si());
    ask.flow = ask.flow * share;
  }
  for (auto& joint : model.joints)
    if (joint.name == place) {
      asked = std::max(asked, joint.draw.si());
      joint.draw = joint.draw * share;
    }
  return asked;
}

/// What the place could have while all others get what they ask for.
std::optional<double> flow_instead(const Model& model, const std::string& place, std::size_t node,
                                   const PriceList& prices) {
  double asked = 0.0;
  const auto met = [&](double share) {
    Model less = model;
    asked = scale_asks(less, place, share);
    const auto loops = design_loops(less, prices);
    return loops && met_at(loops.value->choice, node, 0.0);
  };
  if (!met(1e-3) || asked <= 0.0) return std::nullopt;
  double low = 0.0, high = 1.0;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (met(middle) ? low : high) = middle;
  }
  if (low <= 0.0) return std::nullopt;
  return low * asked;
}

}  // namespace

std::vector<Shortfall> shortfalls_with_loops(const Model& model, const DesignLoops& loops,
                                             const PriceList& prices) {
  std::vector<Shortfall> all;
  const std::vector<double> margins = margins_of_loops_m(loops.choice);
  for (std::size_t v = 0; v < margins.size(); ++v) {
    if (margins[v] >= 0.0) continue;
    const auto missing = missing_m(loops.choice, v);
    if (missing)
      all.push_back({loops.places[v], false, *missing, flow_instead(model, loops.places[v], v, prices), {}});
  }
  std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.short_m > b.short_m; });
  return all;
}

}  // namespace runnel::sizing
