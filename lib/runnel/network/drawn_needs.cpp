#include "runnel/network/drawn_needs.h"

#include <algorithm>

#include "runnel/network/draws.h"

namespace runnel::network {

Model with_draws_asked(Model model) {
  constexpr const char* by_draws = "its draws in their busiest hour";
  for (const Outlet& outlet : model.outlets) {
    const Flow most = busiest_hour(outlet.draws);
    bool asked = !(most > Flow{});
    for (Ask& ask : model.asks) {
      if (ask.kind != AskKind::flow || ask.at != outlet.name) continue;
      asked = true;
      if (ask.flow >= most) continue;
      ask.flow = most;
      ask.as_drawn = true;
      ask.note = by_draws;
    }
    if (asked) continue;
    Ask ask;
    ask.at = outlet.name;
    ask.flow = most;
    ask.as_drawn = true;
    ask.note = by_draws;
    ask.mark = outlet.mark;
    model.asks.push_back(std::move(ask));
  }
  return model;
}

bool asked_at(const Model& model, const std::string& place) {
  return std::any_of(model.asks.begin(), model.asks.end(), [&](const Ask& ask) { return ask.at == place; });
}

Flow flow_asked_at(const Model& model, const std::string& place) {
  Flow most;
  for (const Ask& ask : model.asks)
    if (ask.kind == AskKind::flow && ask.at == place) most = std::max(most, ask.flow);
  return most;
}

}  // namespace runnel::network
