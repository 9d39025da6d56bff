#include "runnel/air/restart.h"

#include <algorithm>
#include <cmath>

#include "runnel/air/descent.h"

namespace runnel::air {
namespace {

class Restart {
 public:
  Restart(const Profile& profile, const StartConditions& conditions)
      : profile_(profile),
        conditions_(conditions),
        atmosphere_m_(conditions.atmospheric_head_m),
        shape_(shape_of(profile, conditions)),
        bore_m3_(bore_volume_to_points_m3(profile)) {}

  std::optional<StartUp> run() {
    if (!prepare()) return std::nullopt;
    const std::size_t last = count_ - 1;
    Load asked = {shape_.descents.front().crest_m, shape_.descents.front().crest_m};
    for (std::size_t k = 0; k < count_; ++k) {
      press(volume_beyond_m3(descent(k).crest));  // the front stands at the crest
      const double front_m = descent(k).crest_m + gauge_m_;
      const Load load = back_from(k, {front_m, descent(k).crest_m + (open_to_air(k) ? 0.0 : most_gauge_m())});
      asked.column_m = std::max(asked.column_m, load.column_m);
      asked.uncompressed_m = std::max(asked.uncompressed_m, load.uncompressed_m);
      if (k < last) close(k);
    }
    amounts_.push_back(amount_m3_);
    return result(asked);
  }

 private:
  const Descent& descent(std::size_t k) const { return shape_.descents[k]; }
  double bore_between_m3(int a, int b) const {
    return bore_m3_[static_cast<std::size_t>(b)] - bore_m3_[static_cast<std::size_t>(a)];
  }

  bool prepare() {
    const double end_m = profile_.points.back().elevation_m;
    if (!conditions_.end_stands || !conditions_.end_level_m || *conditions_.end_level_m <= end_m)
      return false;
    level_m_ = *conditions_.end_level_m;
    // Behind the last crest above the tank's level everything is under water.
    count_ = shape_.descents.size();
    while (count_ > 0 && descent(count_ - 1).crest_m <= level_m_) --count_;
    if (count_ == 0) return false;
    vented_from_ = 0;
    for (std::size_t k = 0; k < count_; ++k)
      if (descent(k).vented) vented_from_ = k + 1;
    if (vented_from_ == count_) return false;
    const int first_low = shape_.turns.front().crest ? 0 : shape_.turns.front().point;
    press(volume_beyond_m3(first_low));
    return true;
  }

  /// Whether the front at this crest still has a crest with an air valve ahead of it, by which air can leave.
  bool open_to_air(std::size_t crest) const { return crest < vented_from_; }
  /// The gauge head at which air bubbles out by the low point of the last leg.
  double most_gauge_m() const { return std::max(0.0, level_m_ - descent(count_ - 1).air.start_m()); }

  /// Volume of the bore from a point to the last crest.
  double volume_beyond_m3(int point) const { return bore_between_m3(point, descent(count_ - 1).crest); }

  /// Compresses the body into the given bore before the last crest and the part of the last leg that it
  /// takes. At first, and while it is open to the air, its amount is what that holds at atmospheric pressure.
  void press(double bore_m3) {
    const LegAir& leg = descent(count_ - 1).air;
    if (amount_m3_ < 0.0 || closing_ < vented_from_) {
      amount_m3_ = bore_m3 + leg.volume_above_m3(level_m_);
      gauge_m_ = 0.0;
      return;
    }
    const auto enough = [&](double gauge_m) {
      return (atmosphere_m_ + gauge_m) * (bore_m3 + leg.volume_above_m3(level_m_ - gauge_m)) >=
             atmosphere_m_ * amount_m3_;
    };
    double low = 0.0, high = most_gauge_m();
    if (!enough(high)) {
      gauge_m_ = high;
      amount_m3_ = (1.0 + high / atmosphere_m_) * (bore_m3 + leg.volume_above_m3(level_m_ - high));
      return;
    }
    for (int i = 0; i < 100 && high - low > 1e-13 * high; ++i) {
      const double middle = 0.5 * (low + high);
      (enough(middle) ? high : low) = middle;
    }
    gauge_m_ = high;
  }

  /// Lets the front fall from a crest and seal the low point below it.
  void close(std::size_t k) {
    press(volume_beyond_m3(descent(k).crest));  // trickling water takes up no volume
    const double leg_m3 = bore_between_m3(descent(k).crest, descent(k).low);
    const double cut_off_m3 = (1.0 + gauge_m_ / atmosphere_m_) * leg_m3;
    amounts_.push_back(descent(k).vented ? 0.0 : cut_off_m3);
    amount_m3_ -= cut_off_m3;
    closing_ = k + 1;
  }

  /// The level needed at the source for a load before crest `k`, with the pockets that are closed by then.
  Load back_from(std::size_t k, Load load) const {
    while (k-- > 0) {
      const Descent& d = descent(k);
      if (d.vented) {
        load = pass_back(d, atmosphere_m_, load);
        continue;
      }
      const double uncompressed_m = d.crest_m + std::max(0.0, load.uncompressed_m - d.air.start_m());
      load = {d.air.under_column(atmosphere_m_, load.column_m, amounts_[k]).head_at_crest_m, uncompressed_m};
    }
    return load;
  }

  StartUp result(const Load& asked) const {
    const StartUp dry = start_up(profile_, conditions_);
    StartUp found = dry;
    static_cast<StartLevels&>(found) = levels_of(asked, conditions_.source_level_m, dry.too_high.has_value());
    if (found.verdict == StartVerdict::starts) found.reason = StartReason::none;
    if (found.verdict == StartVerdict::doubtful) found.reason = StartReason::compression_needed;
    if (found.verdict == StartVerdict::blocked && dry.verdict != StartVerdict::blocked)
      found.reason = StartReason::air;
    found.under_water = true;
    found.pockets.clear();
    double column_m = level_m_;
    for (std::size_t k = count_; k-- > 0;) {
      const Descent& d = descent(k);
      Pocket pocket = loaded_by(d, atmosphere_m_, {column_m, column_m});
      if (!d.vented) {
        const Loaded loaded = d.air.under_column(atmosphere_m_, column_m, amounts_[k]);
        pocket.volume_start_m3 = amounts_[k];
        pocket.volume_loaded_m3 = loaded.volume_m3;
        pocket.gauge_head_m = loaded.gauge_head_m;
        pocket.interface_m = loaded.interface_m;
        pocket.head_at_crest_m = loaded.head_at_crest_m;
      }
      column_m = pocket.head_at_crest_m;
      found.pockets.insert(found.pockets.begin(), pocket);
    }
    return found;
  }

  const Profile& profile_;
  const StartConditions& conditions_;
  double atmosphere_m_;
  LineShape shape_;
  std::vector<double> bore_m3_;
  double level_m_ = 0.0;
  std::size_t count_ = 0;        ///< descents from a crest above the tank's level
  std::size_t vented_from_ = 0;  ///< crests before this number can still let air out ahead of the front
  std::size_t closing_ = 0;      ///< the crest that the front is rising to
  double amount_m3_ = -1.0, gauge_m_ = 0.0;
  std::vector<double> amounts_;  ///< of the pockets closed so far
};

}  // namespace

std::optional<StartUp> restart(const Profile& profile, const StartConditions& conditions) {
  return Restart(profile, conditions).run();
}

StartUp harder_start(const Profile& profile, const StartConditions& conditions) {
  StartUp dry = start_up(profile, conditions);
  const auto again = restart(profile, conditions);
  if (!again) return dry;
  StartUp harder = again->required_level_m > dry.required_level_m ? *again : std::move(dry);
  harder.uncompressed_level_m = std::max(harder.uncompressed_level_m, again->uncompressed_level_m);
  harder.uncompressed_margin_m = conditions.source_level_m - harder.uncompressed_level_m;
  if (harder.verdict == StartVerdict::starts && harder.uncompressed_margin_m <= 0.0) {
    harder.verdict = StartVerdict::doubtful;
    harder.reason = StartReason::compression_needed;
  }
  return harder;
}

}  // namespace runnel::air
