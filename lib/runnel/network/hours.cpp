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

std::vector<Draw> drawn_at(const std::vector<Draw>& draws, double hour) {
  std::vector<Draw> now;
  std::copy_if(draws.begin(), draws.end(), std::back_inserter(now),
               [hour](const Draw& draw) { return drawn_at(draw, hour); });
  return now;
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

Flow daily_mean_in_all(const Model& model) {
  Flow sum;
  const auto add = [&](const auto& places) {
    for (const auto& place : places) sum += daily_mean(place.draws);
  };
  add(model.tanks);
  add(model.joints);
  add(model.outlets);
  return sum;
}

Model at_hour(Model model, double hour) {
  for (Outlet& outlet : model.outlets)
    if (has_hours(outlet) && drawn_at(outlet.draws, hour).empty()) outlet.shut = true;
  for (Joint& joint : model.joints)
    if (!joint.draws.empty()) joint.draw = busiest_hour(drawn_at(joint.draws, hour));
  return model;
}

Model as_people_open_it(Model model, double hour) {
  model = at_hour(std::move(model), hour);
  for (Outlet& tap : model.outlets)
    if (!tap.shut && !tap.draws.empty()) tap.opened_to = busiest_hour(drawn_at(tap.draws, hour));
  return model;
}

namespace {

/// Each draw that has hours, of places of one kind.
template <class Places, class Take>
void each_with_hours(const Places& places, const Take& take) {
  for (const auto& place : places)
    for (const Draw& draw : place.draws)
      if (!all_day(draw)) take(draw);
}

double on_the_clock(double hour) { return std::fmod(hour, 24.0); }

}  // namespace

std::vector<double> hours_to_start_at(const Model& model) {
  std::set<double> hours{0.0};
  const auto take = [&](const Draw& draw) { hours.insert(on_the_clock(draw.from_hour)); };
  each_with_hours(model.tanks, take);
  each_with_hours(model.outlets, take);
  each_with_hours(model.joints, take);
  return {hours.begin(), hours.end()};
}

std::vector<double> hours_of_change(const Model& model) {
  std::set<double> hours;
  const auto take = [&](const Draw& draw) {
    hours.insert({on_the_clock(draw.from_hour), on_the_clock(draw.to_hour)});
  };
  each_with_hours(model.outlets, take);
  each_with_hours(model.joints, take);
  return {hours.begin(), hours.end()};
}

}  // namespace runnel::network
