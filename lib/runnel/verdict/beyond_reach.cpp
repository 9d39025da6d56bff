#include "runnel/verdict/beyond_reach.h"

#include <algorithm>

#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/verdict/rounding.h"

namespace runnel::verdict {
namespace {

bool used_at(const network::Outlet& tap, double hour) {
  return !network::has_hours(tap) ||
         std::any_of(tap.draws.begin(), tap.draws.end(),
                     [hour](const auto& draw) { return network::drawn_at(draw, hour); });
}

}  // namespace

SpringsInAll springs_in_all(const network::System& system) {
  SpringsInAll all;
  for (const network::Box& box : system.boxes()) {
    all.give_m3s += box.yield.si();
    if (box.yield.si() > 0.0) ++all.springs;
  }
  return all;
}

std::optional<AskedInAll> asked_beyond_springs(const network::System& system,
                                               const std::vector<AskResult>& asks) {
  const auto& tanks = system.tanks();
  if (std::any_of(tanks.begin(), tanks.end(), [](const network::Tank& tank) { return tank.held; }))
    return std::nullopt;
  const SpringsInAll springs = springs_in_all(system);
  AskedInAll all{.springs_m3s = springs.give_m3s, .springs = springs.springs, .taps = {}};
  std::vector<const AskResult*> counted;
  for (const AskResult& r : asks) {
    const network::Outlet* tap = system.outlet(r.ask.at);
    if (!tap || r.ask.kind != network::AskKind::flow || r.cut_off) continue;
    if (!tanks.empty() && network::has_hours(*tap)) continue;
    counted.push_back(&r);
    all.taps.push_back(r.ask.at);
  }
  // Taps with hours count in the hour at which most is asked.
  std::vector<double> hours = network::hours_of_change(system.model());
  if (hours.empty()) hours.push_back(0.0);
  std::size_t at_once = 0;
  for (const double hour : hours) {
    double asked_m3s = 0.0;
    std::size_t here = 0;
    for (const AskResult* r : counted) {
      if (!used_at(*system.outlet(r->ask.at), hour)) continue;
      asked_m3s += r->ask.flow.si();
      ++here;
    }
    if (asked_m3s > all.asked_m3s) all.asked_m3s = asked_m3s, at_once = here;
  }
  // One need alone that the spring cannot meet says so itself, unless a tank hides it for a while.
  const std::size_t least = tanks.empty() ? 2 : 1;
  if (all.springs == 0 || at_once < least || all.asked_m3s <= all.springs_m3s * (1.0 + rounding))
    return std::nullopt;
  return all;
}

std::optional<FullTooHigh> full_beyond_reach(const network::System& system, const std::string& tank) {
  const network::Tank* asked = system.tank(tank);
  if (!asked || system.boxes().empty()) return std::nullopt;
  FullTooHigh out{"", 0.0, network::full_level(system.model(), *asked).metres()};
  const auto stands = [&](const std::string& name, double water_m) {
    if (out.source.empty() || water_m > out.water_m) out.source = name, out.water_m = water_m;
  };
  for (const network::Box& box : system.boxes()) stands(box.name, box.lip.metres());
  for (const network::Tank& other : system.tanks())
    if (&other != asked) stands(other.name, (other.held ? other.level : other.lip).metres());
  if (out.water_m >= out.full_m) return std::nullopt;
  return out;
}

Sentence set_lower(const std::string& tank, const FullTooHigh& high) {
  return Sentence()
      .say("Set ")
      .name(tank)
      .say(" lower, or end its lip or its float valve below ")
      .figure(Kind::elevation, high.water_m)
      .say(".");
}

}  // namespace runnel::verdict
