#include "runnel/air/pocket.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace runnel::air {
namespace {

/// Smaller root t in [0, 1] of (p - d t)(v - e t) = target, where p v >= target and all are >= 0, in the form
/// that subtracts no nearly equal numbers.
double share_of_piece(double p, double d, double v, double e, double target) {
  const double c = p * v - target;
  const double b = p * e + d * v;
  if (b <= 0.0) return 0.0;
  const double root = std::sqrt(std::max(0.0, b * b - 4.0 * d * e * c));
  return std::clamp(2.0 * c / (b + root), 0.0, 1.0);
}

}  // namespace

LegAir::LegAir(const Profile& profile, int crest, int low, double start_m) : start_m_(start_m) {
  const auto& p = profile.points;
  crest_m_ = p[static_cast<std::size_t>(crest)].elevation_m;
  levels_m_.push_back(start_m_);
  for (auto i = static_cast<std::size_t>(crest); i < static_cast<std::size_t>(low); ++i) {
    const double a = p[i].elevation_m, b = p[i + 1].elevation_m;
    pieces_.push_back(
        {std::max(a, b), std::min(a, b), p[i].area_m2 * (p[i + 1].distance_m - p[i].distance_m)});
    for (double z : {a, b})
      if (z > start_m_) levels_m_.push_back(z);
  }
  std::sort(levels_m_.begin(), levels_m_.end());
  levels_m_.erase(std::unique(levels_m_.begin(), levels_m_.end()), levels_m_.end());
  measure();
}

/// Computes the volumes at all levels from the top down: pieces entirely above a level are summed up once,
/// and only those that the level cuts are looked at again.
void LegAir::measure() {
  std::vector<const Piece*> by_top;
  for (const Piece& piece : pieces_) by_top.push_back(&piece);
  std::sort(by_top.begin(), by_top.end(),
            [](const Piece* a, const Piece* b) { return a->high_m > b->high_m; });
  from_m3_.resize(levels_m_.size());
  above_m3_.resize(levels_m_.size());
  std::vector<const Piece*> cut;
  double whole_m3 = 0.0;
  auto next = by_top.begin();
  for (std::size_t i = levels_m_.size(); i-- > 0;) {
    const double level_m = levels_m_[i];
    for (; next != by_top.end() && (*next)->high_m >= level_m; ++next) cut.push_back(*next);
    std::erase_if(cut, [&](const Piece* piece) {
      if (piece->low_m <= level_m) return false;
      whole_m3 += piece->volume_m3;
      return true;
    });
    from_m3_[i] = above_m3_[i] = whole_m3;
    for (const Piece* piece : cut) {
      from_m3_[i] += piece_above_m3(*piece, level_m, true);
      above_m3_[i] += piece_above_m3(*piece, level_m, false);
    }
  }
}

double LegAir::piece_above_m3(const Piece& piece, double level_m, bool flats) const {
  if (piece.low_m > level_m || (flats && piece.low_m == level_m)) return piece.volume_m3;
  if (piece.high_m <= level_m) return 0.0;
  return piece.volume_m3 * ((piece.high_m - level_m) / (piece.high_m - piece.low_m));
}

double LegAir::volume_above_m3(double level_m) const {
  double volume_m3 = 0.0;
  for (const Piece& piece : pieces_) volume_m3 += piece_above_m3(piece, level_m, false);
  return volume_m3;
}

double LegAir::volume_from_m3(double level_m) const {
  double volume_m3 = 0.0;
  for (const Piece& piece : pieces_) volume_m3 += piece_above_m3(piece, level_m, true);
  return volume_m3;
}

Loaded LegAir::compressed_to(double interface_m, double gauge_head_m, double volume_m3) const {
  return {interface_m, gauge_head_m, volume_m3, crest_m_ + gauge_head_m};
}

Loaded LegAir::under_column(double atmospheric_head_m, double column_m, double amount_m3) const {
  if (column_m <= start_m_) return compressed_to(start_m_, 0.0, start_volume_m3());
  const double target = atmospheric_head_m * amount_m3;
  const double top = atmospheric_head_m + column_m;  // absolute head at level y is top - y
  if ((top - start_m_) * start_volume_m3() <= target)
    return compressed_to(start_m_, column_m - start_m_, start_volume_m3());
  // (top - y) V(y) falls as y rises: find the highest level at which it still reaches the target.
  std::size_t enough = 0, short_of = levels_m_.size();
  while (short_of - enough > 1) {
    const std::size_t middle = (enough + short_of) / 2;
    ((top - levels_m_[middle]) * from_m3_[middle] >= target ? enough : short_of) = middle;
  }
  const double y0 = levels_m_[enough];
  const double v0 = above_m3_[enough];
  if (short_of == levels_m_.size() || (top - y0) * v0 <= target)  // the surface lies in a flat piece
    return compressed_to(y0, column_m - y0, target / (top - y0));
  const double step = levels_m_[short_of] - y0;
  const double volume_step = v0 - from_m3_[short_of];
  const double share = share_of_piece(top - y0, step, v0, volume_step, target);
  const double y = y0 + share * step;
  return compressed_to(y, column_m - y, v0 - share * volume_step);
}

Loaded LegAir::under_gauge(double atmospheric_head_m, double gauge_head_m) const {
  const double volume_m3 = start_volume_m3() * (atmospheric_head_m / (atmospheric_head_m + gauge_head_m));
  std::size_t enough = 0, short_of = levels_m_.size();
  while (short_of - enough > 1) {
    const std::size_t middle = (enough + short_of) / 2;
    (from_m3_[middle] >= volume_m3 ? enough : short_of) = middle;
  }
  const double y0 = levels_m_[enough];
  const double v0 = above_m3_[enough];
  if (short_of == levels_m_.size() || v0 <= volume_m3) return compressed_to(y0, gauge_head_m, volume_m3);
  const double step = levels_m_[short_of] - y0;
  const double v1 = from_m3_[short_of];
  return compressed_to(y0 + step * ((v0 - volume_m3) / (v0 - v1)), gauge_head_m, volume_m3);
}

}  // namespace runnel::air
