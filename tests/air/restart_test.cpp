// A line started again while its outlet stands under water.
#include "runnel/air/restart.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

#include "air/random_profile.h"

using namespace runnel;
using namespace runnel::test;

namespace {

/// Shafts of bore area 1 m2 over a metre of plan each: down to a low, up to a crest, down to the tank.
constexpr double bore_m = 1.1283791670955126;  // pi/4 d2 = 1

/// Walks the front through the stages with nothing taken from the code under test: volumes by summing thin
/// slices, every pressure by bisection.
class SlowRestart {
 public:
  SlowRestart(const air::Profile& profile, double ha, double tank_m) : ha_(ha), tank_m_(tank_m) {
    for (const auto& p : profile.points) {
      z_.push_back(p.elevation_m);
      area_.push_back(p.area_m2);
      x_.push_back(p.distance_m);
    }
    const auto turns = air::turns(profile);
    int crest = -1, before = 0;
    for (const auto& t : turns) {
      if (t.crest)
        crest = t.point;
      else if (crest < 0)
        before = t.point;
      else
        falls_.push_back({crest, t.point}), crest = -1;
    }
    if (crest >= 0) falls_.push_back({crest, static_cast<int>(z_.size()) - 1});
    while (!falls_.empty() && at(falls_.back().first) <= tank_m_) falls_.pop_back();
    start_ = before;
  }

  bool any() const { return !falls_.empty(); }

  double needed_m() {
    double air = dry_bore(start_, last().first) + above(last(), tank_m_), most = 0.0;
    std::vector<double> kept;
    for (std::size_t k = 0; k < falls_.size(); ++k) {
      const double gauge = pressed(air, dry_bore(falls_[k].first, last().first));
      air = std::min(air, held(gauge, dry_bore(falls_[k].first, last().first)));
      most = std::max(most, back(k, at(falls_[k].first) + gauge, kept));
      kept.push_back((1.0 + gauge / ha_) * dry_bore(falls_[k].first, falls_[k].second));
      air -= kept.back();
    }
    return most;
  }

 private:
  using Fall = std::pair<int, int>;
  double at(int i) const { return z_[static_cast<std::size_t>(i)]; }
  const Fall& last() const { return falls_.back(); }
  double dry_bore(int from, int to) const {
    double sum = 0.0;
    for (auto i = static_cast<std::size_t>(from); i < static_cast<std::size_t>(to); ++i)
      sum += area_[i] * (x_[i + 1] - x_[i]);
    return sum;
  }
  double above(const Fall& fall, double level) const {
    double sum = 0.0;
    for (auto i = static_cast<std::size_t>(fall.first); i < static_cast<std::size_t>(fall.second); ++i) {
      const double high = std::max(z_[i], z_[i + 1]), low = std::min(z_[i], z_[i + 1]);
      const double share = high > low ? std::clamp((high - level) / (high - low), 0.0, 1.0) : high > level;
      sum += share * area_[i] * (x_[i + 1] - x_[i]);
    }
    return sum;
  }
  double held(double gauge, double bore) const {
    return (1.0 + gauge / ha_) * (bore + above(last(), tank_m_ - gauge));
  }
  double pressed(double air, double bore) const {
    double low = 0.0, high = tank_m_ - at(last().second);
    for (int i = 0; i < 200; ++i) {
      const double middle = 0.5 * (low + high);
      (held(middle, bore) < air ? low : high) = middle;
    }
    return high;
  }
  double back(std::size_t k, double column, const std::vector<double>& kept) const {
    while (k-- > 0) {
      const Fall& fall = falls_[k];
      double low = at(fall.second), high = std::min(column, at(fall.first));
      if (column <= low) {
        column = at(fall.first);
        continue;
      }
      for (int i = 0; i < 200; ++i) {  // the level up to which the air is pressed
        const double middle = 0.5 * (low + high);
        ((ha_ + column - middle) * above(fall, middle) > ha_ * kept[k] ? low : high) = middle;
      }
      column = at(fall.first) + std::max(0.0, column - low);
    }
    return column;
  }

  double ha_, tank_m_;
  int start_ = 0;
  std::vector<double> z_, area_, x_;
  std::vector<Fall> falls_;
};

}  // namespace

TEST_CASE("one closed body of air before a tank, in closed form") {
  // Source, low at 0, crest at 20, end at 0; the tank stands at 8. Shafts of 1 m2: the rise of 20 m and the
  // 12 m over the tank's water hold 32 m3. At the crest (10 + g)(12 + g) = 320: g = -11 + sqrt(121 + 200).
  const auto profile = air::profile_of({{0, 30}, {1e-9, 0}, {2e-9, 20}, {3e-9, 0}}, bore_m);
  const air::StartConditions conditions{10.0, 40.0, 8.0, {}};
  const auto again = air::restart(profile, conditions);
  REQUIRE(again);
  const double gauge_m = -11.0 + std::sqrt(321.0);
  CHECK(again->required_level_m == Approx(20.0 + gauge_m).epsilon(1e-9));
  // Filled dry the leg keeps 20 m3: (10 + 8 - y)(20 - y) = 200 has y = 19 - sqrt(1 + 200).
  const double dry_m = 20.0 + 8.0 - (19.0 - std::sqrt(201.0));
  CHECK(air::start_up(profile, conditions).required_level_m == Approx(dry_m).epsilon(1e-9));
  const auto harder = air::harder_start(profile, conditions);
  CHECK(harder.under_water == (20.0 + gauge_m > dry_m));
  CHECK(harder.required_level_m == Approx(std::max(20.0 + gauge_m, dry_m)).epsilon(1e-9));
}

TEST_CASE("air that the tank's water cannot hold bubbles out by the low end") {
  // The rise holds 60 m3 of bore: the air would be pressed beyond the 8 m that the tank stands over the end.
  const auto profile = air::profile_of({{0, 70}, {1e-9, 0}, {2e-9, 60}, {3e-9, 0}}, bore_m);
  const auto again = air::restart(profile, {10.0, 100.0, 8.0, {}});
  REQUIRE(again);
  CHECK(again->required_level_m == Approx(68.0).epsilon(1e-9));
}

TEST_CASE("where the air can leave there is nothing to start again under water") {
  const std::vector<std::pair<double, double>> line = {{0, 30}, {50, 0}, {100, 20}, {150, 0}};
  const auto profile = air::profile_of(line, 0.05);
  CHECK_FALSE(air::restart(profile, {10.0, 40.0, std::nullopt, {}}));  // it ends in the open
  CHECK_FALSE(air::restart(profile, {10.0, 40.0, 21.0, {}}));          // all under water
  CHECK_FALSE(air::restart(profile, {10.0, 40.0, 8.0, {100.0}}));      // vented at its last crest
  CHECK_FALSE(air::restart(air::profile_of({{0, 30}, {50, 0}}, 0.05), {10.0, 40.0, 8.0, {}}));
}

TEST_CASE("random lines started again under water ask for what a slow walk through the stages finds") {
  std::mt19937 dice(8808);
  std::vector<double> more_m;
  int found = 0;
  for (int i = 0; i < 2000; ++i) {
    CAPTURE(i);
    const auto profile = random_profile(dice);
    const double end_m = profile.points.back().elevation_m;
    const double tank_m = end_m + std::uniform_real_distribution<double>(0.2, 6.0)(dice);
    const air::StartConditions conditions{10.0, 200.0, tank_m, {}};
    const auto again = air::restart(profile, conditions);
    SlowRestart slow(profile, 10.0, tank_m);
    REQUIRE(again.has_value() == slow.any());
    if (!again) continue;
    ++found;
    // Both bisect volumes of up to a cubic metre to rounding.
    REQUIRE(again->required_level_m == Approx(slow.needed_m()).epsilon(0.0).margin(1e-7));
    REQUIRE(again->uncompressed_level_m >= again->required_level_m - 1e-9);
    const auto dry = air::start_up(profile, conditions);
    more_m.push_back(again->required_level_m - dry.required_level_m);
    const auto harder = air::harder_start(profile, conditions);
    REQUIRE(harder.required_level_m == std::max(again->required_level_m, dry.required_level_m));
    REQUIRE(harder.under_water == (again->required_level_m > dry.required_level_m));
    auto high = conditions;  // the datum is nobody's business
    high.source_level_m += 900.0;
    *high.end_level_m += 900.0;
    REQUIRE(air::restart(lifted(profile, 900.0), high)->required_level_m - 900.0 ==
            Approx(again->required_level_m).epsilon(0.0).margin(1e-8));
  }
  CHECK(found > 500);
  std::nth_element(more_m.begin(), more_m.begin() + static_cast<std::ptrdiff_t>(more_m.size() / 2),
                   more_m.end());
  CHECK(more_m[more_m.size() / 2] > 0.0);  // mostly the harder of both
}
