#include "runnel/filling/check.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "runnel/steady/state.h"

namespace runnel::filling {
namespace {

using network::System;

constexpr double pi_here = 3.14159265358979323846;
constexpr double most_share = 1e-9;       // of the water that passed: what the balance may lack
constexpr double most_flow_share = 1e-6;  // of the largest flow
// The steady solver settles heads to 1e-9 m: a film over a mouth that is running dry may carry more or less
// by that.
constexpr double head_grain_m = 5e-9;
constexpr double jump_m = 1e-8;  // of level: how near to a jump of the flows a step may end
constexpr double level_grain_m = 1e-6;
constexpr int instants = 12;

// Volumes by the textbook formulas, not by tank_curve.
struct Shape {
  double h;
  double operator()(const network::UprightCylinder& s) const {
    return pi_here * std::pow(s.diameter.metres() / 2.0, 2) * h;
  }
  double operator()(const network::Cuboid& s) const { return s.length.metres() * s.width.metres() * h; }
  double operator()(const network::LyingCylinder& s) const {
    const double r = s.diameter.metres() / 2.0, x = std::clamp(h, 0.0, 2.0 * r);
    return s.length.metres() *
           (r * r * std::acos((r - x) / r) - (r - x) * std::sqrt(std::max(0.0, 2.0 * r * x - x * x)));
  }
  double operator()(const network::Frustum& s) const {
    const double a = s.bottom_diameter.metres() / 2.0;
    const double b = a + (s.top_diameter.metres() / 2.0 - a) * h / s.height.metres();
    return pi_here * h / 3.0 * (a * a + a * b + b * b);
  }
  double operator()(const network::DepthVolumeTable& s) const {
    std::size_t i = 1;
    while (i + 1 < s.depth.size() && s.depth[i].metres() < h) ++i;
    const double t = (h - s.depth[i - 1].metres()) / (s.depth[i] - s.depth[i - 1]).metres();
    return s.volume[i - 1].si() + t * (s.volume[i] - s.volume[i - 1]).si();
  }
};

/// One storage in the model's own words.
struct Vessel {
  std::string name;
  network::TankShape shape;
  double floor_m = 0.0, lip_m = 0.0, yield_m3s = 0.0;
  const std::vector<network::Draw>* draws = nullptr;

  double volume(double level_m) const { return std::visit(Shape{level_m - floor_m}, shape); }
  double asked(double time_s, double start_hour) const {
    double sum = 0.0;
    const double hour = std::fmod(time_s / 3600.0 + start_hour, 24.0);
    for (std::size_t d = 0; draws && d < draws->size(); ++d) {
      const network::Draw& draw = (*draws)[d];
      const double from = draw.from_hour, to = draw.to_hour;
      const bool over_midnight = to <= from;
      const double length = over_midnight ? to + 24.0 - from : to - from;
      const bool now = over_midnight ? hour >= from || hour < to : hour >= from && hour < to;
      if (now || length >= 24.0) sum += draw.flow.si() * 24.0 / length;
    }
    return sum;
  }
};

std::vector<Vessel> vessels(const System& system) {
  std::vector<Vessel> all;
  for (const auto& t : system.tanks)
    all.push_back({t.name, t.shape, t.floor.metres(), t.lip.metres(), 0.0, &t.draws});
  for (const auto& b : system.boxes)
    if (b.plan_length.metres() > 0.0 && b.plan_width.metres() > 0.0)
      all.push_back({b.name, network::Cuboid{b.plan_length, b.plan_width},
                     b.floor.value_or(b.outlet).metres(), b.lip.metres(), b.yield.si(), nullptr});
  return all;
}

class Checker {
 public:
  Checker(const System& system, const FillOptions& options, const FillHistory& history)
      : system_(system), options_(options), history_(history), vessels_(vessels(system)) {}

  FillProof run() {
    for (std::size_t i = 0; i < vessels_.size(); ++i) balance(i);
    balance_whole();
    bounds();
    flows();
    const double largest = std::max(largest_, 1e-12);
    proof_.flow_share = proof_.flow_m3s / largest;
    proof_.consistent =
        proof_.bounded && proof_.balance_share <= most_share && proof_.flow_share <= most_flow_share;
    proof_.checks = {
        "water in less water out is what is stored, for every tank and for the whole, summed over all steps "
        "anew",
        "no spill below a lip, no draw above what is asked, no level outside its tank",
        "flows against the steady solver run afresh at " + std::to_string(proof_.instants) + " instants"};
    return proof_;
  }

 private:
  static double weight(int stage) {
    const double root = std::sqrt(6.0);
    return stage == 0 ? (16.0 - root) / 36.0 : stage == 1 ? (16.0 + root) / 36.0 : 1.0 / 9.0;
  }

  template <class Rate>
  long double total(Rate&& rate) const {
    long double sum = 0.0L;
    for (const StepRecord& step : history_.record)
      for (int k = 0; k < 3; ++k)
        sum += static_cast<long double>(step.length_s) * weight(k) * rate(step.stage[k]);
    return sum;
  }

  long double seconds() const {
    long double sum = 0.0L;
    for (const StepRecord& step : history_.record) sum += step.length_s;
    return sum;
  }

  void note_share(long double off, long double passed) {
    const double share = static_cast<double>(std::abs(off) / std::max(passed, 1e-12L));
    proof_.balance_share = std::max(proof_.balance_share, share);
  }

  double by_lines(std::size_t i, const StepRecord::Stage& stage, bool in) const {
    double sum = 0.0;
    for (std::size_t l = 0; l < system_.pipelines.size(); ++l) {
      const auto& line = system_.pipelines[l];
      const double q = stage.line_m3s[l];
      if (line.to == vessels_[i].name) sum += in ? std::max(q, 0.0) : std::max(-q, 0.0);
      if (line.from == vessels_[i].name) sum += in ? std::max(-q, 0.0) : std::max(q, 0.0);
    }
    return sum;
  }

  void balance(std::size_t i) {
    const StorageHistory& h = history_.storages[i];
    const long double in =
        total([&](const auto& s) { return by_lines(i, s, true); }) + vessels_[i].yield_m3s * seconds();
    const long double out = total([&](const auto& s) { return by_lines(i, s, false); }) +
                            total([&](const auto& s) { return s.drawn_m3s[i] + s.spill_m3s[i]; });
    const double begin = vessels_[i].volume(h.start_level_m), end = vessels_[i].volume(h.end_level_m);
    note_share(in - out - (static_cast<long double>(end) - begin), in + begin);
  }

  void balance_whole() {
    long double in = 0.0L, stored = 0.0L, begin = 0.0L;
    for (const auto& box : system_.boxes) in += box.yield.si() * seconds();
    for (std::size_t i = 0; i < vessels_.size(); ++i) {
      const StorageHistory& h = history_.storages[i];
      stored +=
          static_cast<long double>(vessels_[i].volume(h.end_level_m)) - vessels_[i].volume(h.start_level_m);
      begin += vessels_[i].volume(h.start_level_m);
    }
    const long double out = total([&](const auto& s) {
      double sum = s.other_out_m3s;
      for (std::size_t i = 0; i < vessels_.size(); ++i) sum += s.drawn_m3s[i] + s.spill_m3s[i];
      return sum;
    });
    note_share(in - out - stored, in + begin);
  }

  void bounds() {
    for (const StepRecord& step : history_.record)
      for (std::size_t i = 0; i < vessels_.size(); ++i) {
        const Vessel& v = vessels_[i];
        const double asked = v.asked(step.start_s + 0.5 * step.length_s, options_.start_hour);
        const double level = step.level_m[i], grain = 1e-9 * std::max(asked, 1e-6);
        proof_.bounded =
            proof_.bounded && level >= v.floor_m - level_grain_m && level <= v.lip_m + level_grain_m;
        for (const auto& s : step.stage) {
          const bool drawn = s.drawn_m3s[i] >= -grain && s.drawn_m3s[i] <= asked + grain;
          const bool spilled =
              s.spill_m3s[i] == 0.0 || (s.spill_m3s[i] >= -grain && level >= v.lip_m - level_grain_m);
          proof_.bounded = proof_.bounded && drawn && spilled;
        }
      }
  }

  /// The whole system as it stands, every storage a tank at a fixed level.
  System standing(const std::vector<double>& level_m, const std::vector<int>& valve) const {
    System s = system_;
    for (std::size_t t = 0; t < s.tanks.size(); ++t) {
      s.tanks[t].level = Length::metres(level_m[t]);
      s.tanks[t].draws.clear();
      if (s.tanks[t].float_valve)
        s.tanks[t].float_valve->shuts_at = Length::metres(level_m[t] + (valve[t] == 1 ? -1.0 : 1.0));
    }
    for (std::size_t i = s.tanks.size(); i < vessels_.size(); ++i) {
      const Vessel& v = vessels_[i];
      network::Tank tank;
      tank.name = v.name;
      tank.shape = v.shape;
      tank.floor = Length::metres(v.floor_m);
      tank.lip = tank.inlet = Length::metres(v.lip_m);
      tank.level = Length::metres(level_m[i]);
      s.tanks.push_back(tank);
      std::erase_if(s.boxes, [&](const network::Box& b) { return b.name == v.name; });
    }
    return s;
  }

  /// How far two flows of a line are apart in the velocity head of its first pipe.
  static double head_apart_m(const network::Pipeline& line, double a, double b) {
    const double area = pi_here * std::pow(line.pipes.front().pipe.bore.metres() / 2.0, 2);
    return std::abs(a * std::abs(a) - b * std::abs(b)) / (2.0 * 9.80665 * area * area);
  }

  /// The worst difference of a step's last flows to the steady solver's at levels shifted by so much; none if
  /// that does not settle.
  std::optional<double> apart_m3s(const StepRecord& step, std::vector<double> level_m, double shift_m) const {
    for (double& level : level_m) level += shift_m;
    const steady::State state = steady::solve(standing(level_m, step.valve));
    if (state.outcome != steady::Outcome::settled) return std::nullopt;
    double worst = 0.0;
    for (std::size_t l = 0; l < system_.pipelines.size(); ++l) {
      const double q = step.stage[2].line_m3s[l], fresh = state.lines[l].flow_m3s;
      if (head_apart_m(system_.pipelines[l], q, fresh) > head_grain_m)
        worst = std::max(worst, std::abs(q - fresh));
    }
    return worst;
  }

  /// Where a step ends just as a ring of pipes turns from full to short of water its flows jump: there either
  /// side of the jump will do.
  void flows() {
    const auto& record = history_.record;
    if (record.size() < 2) return;
    const std::size_t stride = std::max<std::size_t>(1, (record.size() - 1) / instants);
    for (const auto& box : system_.boxes) largest_ = std::max(largest_, box.yield.si());
    for (std::size_t n = 0; n + 1 < record.size(); n += stride) {
      const StepRecord& step = record[n];
      if (std::find(step.valve.begin(), step.valve.end(), 2) != step.valve.end()) continue;
      std::optional<double> least;
      for (double shift : {0.0, jump_m, -jump_m}) {
        const auto apart = apart_m3s(step, record[n + 1].level_m, shift);
        if (apart) least = std::min(least.value_or(*apart), *apart);
        if (least && *least == 0.0) break;
      }
      if (!least) continue;
      ++proof_.instants;
      proof_.flow_m3s = std::max(proof_.flow_m3s, *least);
      for (double q : step.stage[2].line_m3s) largest_ = std::max(largest_, std::abs(q));
    }
  }

  const System& system_;
  const FillOptions& options_;
  const FillHistory& history_;
  std::vector<Vessel> vessels_;
  FillProof proof_;
  double largest_ = 0.0;
};

}  // namespace

FillProof check(const System& system, const FillOptions& options, const FillHistory& history) {
  if (history.record.empty()) {
    FillProof nothing;
    nothing.consistent = history.outcome != FillOutcome::no_answer && history.duration_s == 0.0;
    return nothing;
  }
  return Checker(system, options, history).run();
}

}  // namespace runnel::filling
