#include "runnel/verdict/turns.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/draws.h"
#include "runnel/network/hours.h"

namespace runnel::verdict {
namespace {

using network::Draw;
using network::Model;

/// "6", "6:30".
std::string clock(double hour) {
  const int minutes = static_cast<int>(std::lround(std::fmod(hour, 24.0) * 60.0));
  const std::string rest = std::to_string(minutes % 60);
  return std::to_string(minutes / 60) + (minutes % 60 == 0 ? "" : (rest.size() == 1 ? ":0" : ":") + rest);
}

/// A tap or a joint some of whose draws have hours.
struct ByTheHour {
  std::string name;
  std::vector<Draw> draws;

  double drawn_m3s(double hour) const { return network::busiest_hour(network::drawn_at(draws, hour)).si(); }
};

bool some_hours(const std::vector<Draw>& draws) {
  return !std::all_of(draws.begin(), draws.end(), network::all_day) && network::busiest_hour(draws) > Flow{};
}

std::vector<ByTheHour> all_by_the_hour(const Model& model) {
  std::vector<ByTheHour> all;
  for (const network::Outlet& tap : model.outlets)
    if (!tap.shut && some_hours(tap.draws)) all.push_back({tap.name, tap.draws});
  for (const network::Joint& joint : model.joints)
    if (some_hours(joint.draws)) all.push_back({joint.name, joint.draws});
  return all;
}

/// Hours between two cuts of the day, and what is drawn in them at each place.
struct Stretch {
  double from_hour, to_hour;
  std::vector<double> drawn;
};

/// The day cut where draws begin and end.
std::vector<Stretch> stretches(const Model& model, const std::vector<ByTheHour>& places) {
  std::vector<double> hours = network::hours_of_change(model);
  hours.push_back(hours.front() + 24.0);
  std::vector<Stretch> day;
  for (std::size_t i = 0; i + 1 < hours.size(); ++i) {
    Stretch stretch{hours[i], hours[i + 1], {}};
    for (const ByTheHour& place : places) stretch.drawn.push_back(place.drawn_m3s(hours[i]));
    if (!day.empty() && day.back().drawn == stretch.drawn)
      day.back().to_hour = stretch.to_hour;
    else
      day.push_back(std::move(stretch));
  }
  return day;
}

/// Whether nowhere less is drawn in `more` than in `less`.
bool covers(const Stretch& more, const Stretch& less) {
  return std::equal(more.drawn.begin(), more.drawn.end(), less.drawn.begin(), std::greater_equal<>());
}

}  // namespace

std::vector<Turn> turns_by_hours(const Model& model) {
  const std::vector<ByTheHour> places = all_by_the_hour(model);
  if (places.empty()) return {};
  const std::vector<Stretch> day = stretches(model, places);
  const auto covers_all = [&](const Stretch& one) {
    return std::all_of(day.begin(), day.end(), [&](const Stretch& other) { return covers(one, other); });
  };
  if (std::any_of(day.begin(), day.end(), covers_all)) return {};
  std::vector<Turn> turns;
  for (const Stretch& here : day) {
    const bool within_another = std::any_of(day.begin(), day.end(), [&](const Stretch& other) {
      return &other != &here && covers(other, here) && (&other < &here || other.drawn != here.drawn);
    });
    if (within_another) continue;
    Turn turn{here.from_hour, clock(here.from_hour) + " to " + clock(here.to_hour), {}, {}};
    for (std::size_t i = 0; i < places.size(); ++i)
      (here.drawn[i] > 0.0 ? turn.drawn : turn.idle).push_back(places[i].name);
    turns.push_back(std::move(turn));
  }
  return turns;
}

Model in_turn(Model model, const Turn& turn) {
  model = network::at_hour(std::move(model), turn.from_hour);
  for (network::Outlet& tap : model.outlets)
    if (!tap.shut) tap.draws = network::drawn_at(tap.draws, turn.from_hour);
  return model;
}

std::vector<std::string> not_due_in(const Model& model, const Turn& turn) {
  std::vector<std::string> places;
  for (const std::string& place : turn.idle)
    if (model.outlet(place) || std::none_of(model.asks.begin(), model.asks.end(), [&](const auto& ask) {
          return ask.at == place && ask.kind == network::AskKind::pressure;
        }))
      places.push_back(place);
  return places;
}

}  // namespace runnel::verdict
