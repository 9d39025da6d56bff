#include "runnel/review/over_settings.h"

#include <algorithm>
#include <cmath>

#include "runnel/review/review.h"

namespace runnel::review {

namespace {

constexpr double same_m = 1e-6;

bool same_thing(const Ruling& a, const Ruling& b) {
  return a.rule == b.rule && a.where.place == b.where.place && a.where.pipeline == b.where.pipeline &&
         a.where.part == b.where.part;
}

bool same_station(const Ruling& a, const Ruling& b) {
  if (!a.where.station_m || !b.where.station_m) return a.where.station_m == b.where.station_m;
  return std::fabs(*a.where.station_m - *b.where.station_m) < same_m;
}

/// The ruling at the same place. Where only the station differs and there is no choice, the worst point of
/// the thing has moved along it.
Ruling* like_of(const Ruling& ruling, std::vector<Ruling>& all) {
  Ruling* only = nullptr;
  std::size_t count = 0;
  for (Ruling& other : all) {
    if (!same_thing(ruling, other)) continue;
    if (same_station(ruling, other)) return &other;
    only = &other;
    ++count;
  }
  return count == 1 ? only : nullptr;
}

}  // namespace

std::vector<Ruling> worse_of_each(const RuleSet& rules, std::vector<Ruling> so_far, std::vector<Ruling> under,
                                  const std::string& setting) {
  for (Ruling& ruling : under) {
    ruling.setting = setting;
    Ruling* like = like_of(ruling, so_far);
    if (!like)
      so_far.push_back(std::move(ruling));
    else if (worse(ruling, *like))
      *like = std::move(ruling);
  }
  std::vector<Ruling> ordered;
  for (const Rule& rule : rules.rules)
    for (Ruling& ruling : so_far)
      if (ruling.rule == rule.id) ordered.push_back(std::move(ruling));
  return ordered;
}

}  // namespace runnel::review
