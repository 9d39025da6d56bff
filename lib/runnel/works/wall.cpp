#include "runnel/works/wall.h"

namespace runnel::works {

namespace {

std::optional<double> difference_m(const std::optional<Length>& above, const std::optional<Length>& below) {
  if (!above || !below) return std::nullopt;
  return (*above - *below).metres();
}

Judgement judge_creep(const Wall& wall, Ground ground) {
  const Limit limit = at_least(least_creep_ratio(ground));
  const std::optional<double> head_m = difference_m(wall.water_behind, wall.water_in_front);
  std::optional<double> figure;
  if (head_m && *head_m > 0.0) figure = weighted_creep(wall).metres() / *head_m;
  Judgement judged = judge(Rule::creep, Measure::ratio, figure, limit, "lane1935");
  if (head_m && !(*head_m > 0.0)) judged.verdict = Verdict::holds;  // nothing drives the water
  return judged;
}

}  // namespace

double least_creep_ratio(Ground ground) {
  switch (ground) {
    case Ground::very_fine_sand_or_silt:
      return 8.5;
    case Ground::fine_sand:
      return 7.0;
    case Ground::medium_sand:
      return 6.0;
    case Ground::coarse_sand:
      return 5.0;
    case Ground::fine_gravel:
      return 4.0;
    case Ground::medium_gravel:
      return 3.5;
    case Ground::coarse_gravel:
      return 3.0;
    case Ground::boulders_with_gravel:
      return 2.5;
    case Ground::soft_clay:
      return 3.0;
    case Ground::medium_clay:
      return 2.0;
    case Ground::hard_clay:
      return 1.8;
  }
  return 8.5;
}

Length weighted_creep(const Wall& wall) { return wall.depth_behind + wall.width / 3.0 + wall.depth_in_front; }

std::vector<Judgement> judge_wall(const Wall& wall, Ground ground) {
  return {judge(Rule::backwater, Measure::metres, difference_m(wall.water_behind, wall.spring), at_most(0.0),
                "epa-private-water"),
          judge(Rule::wall_top, Measure::metres, difference_m(wall.top, wall.highest_ground),
                at_least(Length::inches(12).metres()), "new-york-5-6"),
          judge_creep(wall, ground)};
}

}  // namespace runnel::works
