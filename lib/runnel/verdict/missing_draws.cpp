#include "runnel/verdict/missing_draws.h"

#include "runnel/filling/draws.h"
#include "runnel/filling/typical_day.h"
#include "runnel/network/draws.h"

namespace runnel::verdict {

std::optional<MissingDraw> missing_draw(const network::System& system, const filling::FillHistory& history,
                                        const std::function<bool(const std::string&)>& due) {
  for (const filling::StorageHistory& tank : history.storages) {
    MissingDraw found{tank.name};
    for (const filling::Shortfall& day : tank.short_days) found.missing_m3 += day.missing_m3;
    const network::Tank* t = system.tank(tank.name);
    found.asked_m3 = t ? network::daily_mean(t->draws).si() * filling::day_s : 0.0;
    if (due(tank.name) && found.missing_m3 > filling::followed_share * found.asked_m3) return found;
  }
  for (const filling::PlaceHistory& place : history.places) {
    const MissingDraw found{place.name, place.missing_m3(), place.asked_a_day_m3(history.duration_s)};
    if (place.by_the_hour && place.short_from_s && due(place.name) &&
        found.missing_m3 > filling::followed_share * found.asked_m3)
      return found;
  }
  return std::nullopt;
}

}  // namespace runnel::verdict
