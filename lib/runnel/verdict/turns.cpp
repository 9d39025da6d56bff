#include "runnel/verdict/turns.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "runnel/network/hours.h"

namespace runnel::verdict {
namespace {

using network::Draw;
using network::Outlet;

/// "6", "6:30".
std::string clock(double hour) {
  const int minutes = static_cast<int>(std::lround(std::fmod(hour, 24.0) * 60.0));
  const std::string rest = std::to_string(minutes % 60);
  return std::to_string(minutes / 60) + (minutes % 60 == 0 ? "" : (rest.size() == 1 ? ":0" : ":") + rest);
}

struct Stretch {
  double from_hour, to_hour;
  std::vector<std::string> drawn;
};

/// The day cut where the draws of the taps begin and end; what is drawn between two cuts.
std::vector<Stretch> stretches(const std::vector<const Outlet*>& taps) {
  std::set<double> cuts;
  for (const Outlet* tap : taps)
    for (const Draw& draw : tap->draws) cuts.insert({draw.from_hour, draw.to_hour});
  std::vector<double> hours(cuts.begin(), cuts.end());
  hours.push_back(hours.front() + 24.0);
  std::vector<Stretch> day;
  for (std::size_t i = 0; i + 1 < hours.size(); ++i) {
    Stretch stretch{hours[i], hours[i + 1], {}};
    for (const Outlet* tap : taps)
      if (std::any_of(tap->draws.begin(), tap->draws.end(),
                      [&](const Draw& draw) { return network::drawn_at(draw, std::fmod(hours[i], 24.0)); }))
        stretch.drawn.push_back(tap->name);
    if (!day.empty() && day.back().drawn == stretch.drawn)
      day.back().to_hour = stretch.to_hour;
    else
      day.push_back(std::move(stretch));
  }
  return day;
}

/// Both in the order of the model, and neither with a name twice.
bool holds_all_of(const std::vector<std::string>& many, const std::vector<std::string>& few) {
  return std::all_of(few.begin(), few.end(), [&](const std::string& name) {
    return std::find(many.begin(), many.end(), name) != many.end();
  });
}

}  // namespace

std::vector<Turn> turns_by_hours(const network::Model& model) {
  std::vector<const Outlet*> taps;
  for (const Outlet& outlet : model.outlets)
    if (network::has_hours(outlet)) taps.push_back(&outlet);
  if (taps.size() < 2) return {};
  std::vector<Turn> turns;
  const std::vector<Stretch> day = stretches(taps);
  for (std::size_t i = 0; i < day.size(); ++i) {
    if (day[i].drawn.size() == taps.size()) return {};
    const bool within_another = std::any_of(day.begin(), day.end(), [&](const Stretch& other) {
      if (&other == &day[i] || !holds_all_of(other.drawn, day[i].drawn)) return false;
      return other.drawn.size() > day[i].drawn.size() || &other < &day[i];
    });
    if (within_another) continue;
    Turn turn{clock(day[i].from_hour) + " to " + clock(day[i].to_hour), {}, day[i].drawn};
    for (const Outlet* tap : taps)
      if (!holds_all_of(turn.drawn, {tap->name})) turn.shut.push_back(tap->name);
    turns.push_back(std::move(turn));
  }
  return turns;
}

network::Model in_turn(network::Model model, const Turn& turn) {
  for (Outlet& outlet : model.outlets)
    if (holds_all_of(turn.shut, {outlet.name})) outlet.shut = true;
  return model;
}

}  // namespace runnel::verdict
