#include "runnel/network/hours.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>

#include "runnel/network/draws.h"

namespace runnel::network {

bool all_day(const Draw& draw) { return draw.from_hour == draw.to_hour; }

bool drawn_at(const Draw& draw, double hour) {
  if (all_day(draw)) return true;
  const bool after = hour >= draw.from_hour, before = hour < draw.to_hour;
  return draw.to_hour < draw.from_hour ? after || before : after && before;
}

bool has_hours(const Outlet& outlet) {
  return !outlet.shut && !outlet.draws.empty() &&
         std::none_of(outlet.draws.begin(), outlet.draws.end(), all_day);
}

bool has_draws(const Model& model) {
  const auto some = [](const auto& places) {
    return std::any_of(places.begin(), places.end(), [](const auto& p) { return !p.draws.empty(); });
  };
  return some(model.tanks) || some(model.joints) || some(model.outlets);
}

Model at_hour(Model model, double hour) {
  const auto drawn = [hour](const Draw& draw) { return drawn_at(draw, hour); };
  for (Outlet& outlet : model.outlets)
    if (has_hours(outlet) && std::none_of(outlet.draws.begin(), outlet.draws.end(), drawn))
      outlet.shut = true;
  for (Joint& joint : model.joints) {
    if (joint.draws.empty()) continue;
    std::vector<Draw> now;
    std::copy_if(joint.draws.begin(), joint.draws.end(), std::back_inserter(now), drawn);
    joint.draw = busiest_hour(now);
  }
  return model;
}

Model as_people_open_it(Model model, double hour) {
  model = at_hour(std::move(model), hour);
  const auto drawn = [hour](const Draw& draw) { return drawn_at(draw, hour); };
  for (Outlet& tap : model.outlets) {
    if (tap.shut || tap.draws.empty()) continue;
    std::vector<Draw> now;
    std::copy_if(tap.draws.begin(), tap.draws.end(), std::back_inserter(now), drawn);
    tap.opened_to = busiest_hour(now);
  }
  return model;
}

std::vector<double> hours_of_change(const Model& model) {
  std::set<double> hours;
  const auto look = [&](const auto& places) {
    for (const auto& place : places)
      for (const Draw& draw : place.draws)
        if (!all_day(draw)) hours.insert({std::fmod(draw.from_hour, 24.0), std::fmod(draw.to_hour, 24.0)});
  };
  look(model.outlets);
  look(model.joints);
  return {hours.begin(), hours.end()};
}

}  // namespace runnel::network
