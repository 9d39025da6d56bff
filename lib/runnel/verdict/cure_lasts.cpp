#include "runnel/verdict/cure_lasts.h"

#include <algorithm>

#include "runnel/filling/typical_day.h"
#include "runnel/network/no_flow.h"
#include "runnel/verdict/beyond_reach.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/low_water.h"
#include "runnel/verdict/margins.h"

namespace runnel::verdict {
namespace {

/// A tap that stands open all day gives in the long run no more than all springs bring, whatever a tank that
/// is drawn at its mouth would let out for a moment.
void hold_to_springs(const network::System& system, AskResult& r) {
  const network::Outlet* tap = system.outlet(r.ask.at);
  const auto held = [](const network::Tank& tank) { return tank.held; };
  if (r.ask.kind != network::AskKind::flow || !r.got || !tap || !tap->draws.empty() ||
      std::any_of(system.tanks().begin(), system.tanks().end(), held))
    return;
  const double springs_m3s = springs_in_all(system).give_m3s;
  if (!(springs_m3s < std::min(r.asked.si, r.got->si))) return;
  r.got->si = springs_m3s;
  r.met = false;
}

void hold_to_stores(const network::System& system, const steady::State& state, std::vector<AskResult>& asks) {
  const auto then = needs_on(system, state, false);
  for (std::size_t i = 0; then && i < asks.size(); ++i)
    if (asks[i].met && (*then)[i].met_until_s && !(*then)[i].met) {
      asks[i].met = false;
      asks[i].got = (*then)[i].got;
    }
}

/// Whether a tank that water runs to a place from loses more than it gets.
bool sinks_before(const network::System& system, const steady::State& state, const std::string& place) {
  return std::any_of(state.tanks.begin(), state.tanks.end(), [&](const steady::PlaceState& here) {
    const network::Tank* tank = system.tank(here.name);
    return tank && !tank->held && here.inflow_m3s < -network::flow_grain_m3s &&
           gives_to(system.model(), here.name, place);
  });
}

}  // namespace

std::vector<AskResult> needs_cured_for_good(const network::System& system, const steady::State& state,
                                            const std::vector<std::size_t>& missed,
                                            std::vector<AskResult> asks, bool stores_too) {
  if (system.tanks().empty()) return asks;
  const auto some_cured = [&] {
    return std::any_of(missed.begin(), missed.end(), [&](std::size_t i) { return asks[i].met; });
  };
  for (const std::size_t i : missed) hold_to_springs(system, asks[i]);
  if (!stores_too) return asks;
  if (some_cured()) hold_to_stores(system, state, asks);
  if (!some_cured()) return asks;
  FlowVerdict at_low_water;
  at_low_water.asks = std::move(asks);
  judge_low_water(system, state, filling::typical_day(system), at_low_water);
  return std::move(at_low_water.asks);
}

void keep_what_comes_at_first(const network::System& system, const steady::State& state,
                              const std::vector<std::size_t>& missed, const std::vector<AskResult>& at_first,
                              std::vector<AskResult>& asks) {
  for (const std::size_t i : missed) {
    AskResult& r = asks[i];
    if (r.met) continue;
    const network::Outlet* tap = system.outlet(r.ask.at);
    r.met_for_now = at_first[i].met && tap && !tap->draws.empty();
    if (r.met_for_now) r.got = at_first[i].got;
    if (sinks_before(system, state, r.ask.at)) r.at_first = at_first[i].got;
  }
}

}  // namespace runnel::verdict
