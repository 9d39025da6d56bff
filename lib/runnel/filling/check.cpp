#include "runnel/filling/check.h"

#include <algorithm>
#include <cmath>

#include "runnel/filling/check_flows.h"
#include "runnel/filling/check_vessel.h"

namespace runnel::filling {
namespace {

using network::System;

constexpr double most_share = 1e-9;       // that the balance may lack, of the water that passed
constexpr double most_flow_share = 1e-6;  // that flows may differ, of the largest flow
constexpr double level_grain_m = 1e-6;

class Checker {
 public:
  Checker(const System& system, const FillOptions& options, const FillHistory& history)
      : system_(system), options_(options), history_(history), vessels_(vessels_of(system)) {}

  FillProof run() {
    for (std::size_t i = 0; i < vessels_.size(); ++i) balance(i);
    balance_whole();
    bounds();
    bounds_by_the_hour();
    check_flows(system_, options_.start_hour, history_, proof_);
    proof_.consistent =
        proof_.bounded && proof_.balance_share <= most_share && proof_.flow_share <= most_flow_share;
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
    for (std::size_t l = 0; l < system_.lines().size(); ++l) {
      const auto& line = system_.lines()[l];
      const double q = stage.line_m3s[l];
      if (line.to == vessels_[i].place) sum += in ? std::max(q, 0.0) : std::max(-q, 0.0);
      if (line.from == vessels_[i].place) sum += in ? std::max(-q, 0.0) : std::max(q, 0.0);
    }
    return sum;
  }

  void balance(std::size_t i) {
    const StorageHistory& h = history_.storages[i];
    const long double in =
        total([&](const auto& s) { return by_lines(i, s, true); }) + vessels_[i].yield_m3s * seconds();
    const long double out = total([&](const auto& s) { return by_lines(i, s, false); }) +
                            total([&](const auto& s) { return s.drawn_m3s[i] + s.spill_m3s[i]; });
    const double begin = vessels_[i].volume_m3(h.start_level_m), end = vessels_[i].volume_m3(h.end_level_m);
    note_share(in - out - (static_cast<long double>(end) - begin), in + begin);
  }

  void balance_whole() {
    long double in = 0.0L, stored = 0.0L, begin = 0.0L;
    for (const auto& box : system_.boxes()) in += box.yield.si() * seconds();
    for (std::size_t i = 0; i < vessels_.size(); ++i) {
      const StorageHistory& h = history_.storages[i];
      stored += static_cast<long double>(vessels_[i].volume_m3(h.end_level_m)) -
                vessels_[i].volume_m3(h.start_level_m);
      begin += vessels_[i].volume_m3(h.start_level_m);
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
        const double asked = v.asked_m3s(step.start_s + 0.5 * step.length_s, options_.start_hour);
        const double level = step.level_m[i], grain = 1e-9 * std::max(asked, 1e-6);
        proof_.bounded =
            proof_.bounded && level >= v.floor_m - level_grain_m && level <= v.lip_m + level_grain_m;
        for (const auto& s : step.stage) {
          const bool drawn = s.drawn_m3s[i] >= -grain && s.drawn_m3s[i] <= asked + grain;
          // A step may end a little after the water began to fall from the lip, and where hardly anything
          // spills the stages of a step swing about none: by no more than the error allowed in a step.
          const bool forth = s.spill_m3s[i] * step.length_s >= -options_.tolerance * v.volume_m3(v.lip_m);
          const bool spilled = s.spill_m3s[i] == 0.0 ||
                               ((forth || s.spill_m3s[i] >= -grain) && level >= v.lip_m - level_grain_m);
          proof_.bounded = proof_.bounded && drawn && spilled;
        }
      }
  }

  /// Checks that no joint or tap with draws by the hour gets more in total than is drawn there.
  void bounds_by_the_hour() {
    const auto asked_m3 = [&](const std::vector<network::Draw>& draws) {
      long double sum = 0.0L;
      for (const StepRecord& step : history_.record)
        sum += static_cast<long double>(step.length_s) *
               asked_m3s(draws, step.start_s + 0.5 * step.length_s, options_.start_hour);
      return sum;
    };
    const auto look = [&](const auto& places, network::PlaceKind kind) {
      for (const auto& place : places)
        for (const PlaceHistory& h : history_.places) {
          if (place.draws.empty() || h.kind != kind || h.name != place.name) continue;
          const auto most_m3 = static_cast<double>(asked_m3(place.draws));
          const double grain_m3 = 1e-9 * std::max(most_m3, 1e-9);
          proof_.bounded = proof_.bounded && h.given_m3 >= -grain_m3 && h.given_m3 <= most_m3 + grain_m3;
        }
    };
    look(system_.joints(), network::PlaceKind::joint);
    look(system_.outlets(), network::PlaceKind::outlet);
  }

  const System& system_;
  const FillOptions& options_;
  const FillHistory& history_;
  std::vector<Vessel> vessels_;
  FillProof proof_;
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
