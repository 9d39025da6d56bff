#include "runnel/filling/seek.h"

#include <algorithm>

#include "runnel/base/roots.h"

namespace runnel::filling {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr int samples = 8;            // of the path within a step, which is a cubic and nearly straight
constexpr double off_the_mark = 4.0;  // grains by which water must leave a mark before it can meet it again
constexpr int bisections = 26;        // locate a change to 1.5e-8 of the step

}  // namespace

Seeker::Seeker(Basins& basins) : basins_(basins), path_(samples + 1) {
  for (const Storage& s : basins.stores()) dry_.push_back({s.dry_m3, 0});
}

void Seeker::note_sides(const VectorXd& volume) {
  auto note = [](Level& level, double v, double grain) {
    if (level.side == 0 && std::abs(v - level.volume_m3) > grain) level.side = v > level.volume_m3 ? 1 : -1;
  };
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    Storage& s = basins_.stores()[i];
    const double v = volume[static_cast<Index>(i)], grain = 10.0 * s.grain_m3();
    if (s.kind == network::PlaceKind::tank) note(s.inlet, v, grain);
    for (Level& bend : s.bends) note(bend, v, grain);
    if (s.dry_m3 > 0.0) note(dry_[i], v, grain);
  }
}

void Seeker::passed(const Found& found) {
  if (found.level) found.level->side = found.direction;
}

/// Looks for a mark on the path of one storage and keeps it if it is passed earlier than the best so far.
void Seeker::look(std::size_t i, MarkKind kind, Level* level, double target_m3, int direction) {
  const double grain = basins_.stores()[i].grain_m3(), d = direction;
  if (d * (path_[0] - target_m3) > grain) return;
  // Water on the mark has already been dealt with. The mark is met again only once the water has left it, or
  // the run would never get past this point.
  if (d * (path_[0] - target_m3) > -grain) target_m3 += off_the_mark * grain * d;
  const double first = d * (path_[0] - target_m3), last = d * (path_.back() - target_m3);
  // Where a law changes within the step the polynomial swings a little. Water that is back before the mark at
  // the end has crossed it only if it went well beyond.
  const double beyond = last > grain     ? grain
                        : first < -grain ? 1e-7 * basins_.stores()[i].lip_m3
                                         : steady::unbounded;
  for (int k = 1; k <= samples; ++k) {
    if (d * (path_[static_cast<std::size_t>(k)] - target_m3) <= beyond) continue;
    const double from = static_cast<double>(k - 1) / samples, to = static_cast<double>(k) / samples;
    const double share = bracketed_root(
        [&](double t) {
          const double v = t == 1.0 ? trial_->volume[static_cast<Index>(i)]
                                    : trial_->within(*start_, t)[static_cast<Index>(i)];
          return d * (v - target_m3);
        },
        from, to);
    if (!best_ || share < best_->share) best_ = Found{kind, i, level, target_m3, direction, share};
    return;
  }
}

void Seeker::marks_of(std::size_t i) {
  Storage& s = basins_.stores()[i];
  if (s.rim == Rim::free) {
    look(i, MarkKind::lip, nullptr, s.lip_m3, 1);
    look(i, MarkKind::floor, nullptr, 0.0, -1);
    for (const Mouth& mouth : s.mouths) {
      if (path_[0] < mouth.bare_m3 - s.grain_m3()) look(i, MarkKind::mouth, nullptr, mouth.bare_m3, 1);
      if (path_[0] > mouth.film_m3 + s.grain_m3()) look(i, MarkKind::mouth, nullptr, mouth.film_m3, -1);
    }
  }
  for (const Float& f : s.floats) {
    if (basins_.field().valve(f.group) == Valve::open) look(i, MarkKind::float_level, nullptr, f.shuts_m3, 1);
    if (basins_.field().valve(f.group) == Valve::shut)
      look(i, MarkKind::float_level, nullptr, f.opens_m3, -1);
  }
  auto both = [&](MarkKind kind, Level& level) {
    if (level.side != 0) look(i, kind, &level, level.volume_m3, -level.side);
  };
  if (s.kind == network::PlaceKind::tank) both(MarkKind::inlet, s.inlet);
  for (Level& bend : s.bends) both(MarkKind::bend, bend);
  if (s.dry_m3 > 0.0) both(MarkKind::dry, dry_[i]);
}

std::optional<Found> Seeker::first_mark(const VectorXd& start, const Trial& trial) {
  best_.reset();
  start_ = &start;
  trial_ = &trial;
  Eigen::MatrixXd path(start.size(), samples + 1);
  path.col(0) = start;
  path.col(samples) = trial.volume;
  for (int k = 1; k < samples; ++k) path.col(k) = trial.within(start, static_cast<double>(k) / samples);
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    for (int k = 0; k <= samples; ++k) path_[static_cast<std::size_t>(k)] = path(static_cast<Index>(i), k);
    marks_of(i);
  }
  return best_;
}

std::optional<Found> Seeker::regime_change(const VectorXd& start, const Instant& before, const Trial& trial,
                                           bool rims_only) {
  auto same = [&](const Instant& now) {
    return rims_only ? basins_.same_rims(before, now) : basins_.same_regime(before, now);
  };
  if (same(basins_.stage(2))) return std::nullopt;
  double low = 0.0, high = 1.0;
  VectorXd rate(start.size());
  for (int k = 0; k < bisections; ++k) {
    const double middle = 0.5 * (low + high);
    if (!basins_.rates(-1, trial.within(start, middle), rate)) break;
    (same(basins_.probe()) ? low : high) = middle;
  }
  Found found;
  found.share = high;
  return found;
}

}  // namespace runnel::filling
