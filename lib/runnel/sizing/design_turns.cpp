#include "runnel/sizing/design_turns.h"

#include <algorithm>

#include "runnel/verdict/turns.h"

namespace runnel::sizing {

std::vector<network::Model> design_turns(const network::Model& model) {
  std::vector<network::Model> all;
  for (const verdict::Turn& turn : verdict::turns_by_hours(model)) {
    network::Model& here = all.emplace_back(verdict::in_turn(model, turn));
    const std::vector<std::string> not_due = verdict::not_due_in(model, turn);
    const auto is_among = [](const std::vector<std::string>& places, const std::string& place) {
      return std::find(places.begin(), places.end(), place) != places.end();
    };
    std::erase_if(here.asks, [&](const network::Ask& ask) {
      return is_among(ask.kind == network::AskKind::flow ? turn.idle : not_due, ask.at);
    });
    for (network::Outlet& outlet : here.outlets)
      if (is_among(turn.idle, outlet.name)) outlet.draws.clear();  // what is drawn is asked for
  }
  if (all.empty()) all.push_back(model);
  return all;
}

}  // namespace runnel::sizing
