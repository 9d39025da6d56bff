#pragma once
// How sure a laid model is to meet its needs: the chance of each, the two corners beside it, what comes if
// nobody turns a tap again, and what to measure next.
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "runnel/sizing/sampler.h"

namespace runnel::sizing {

struct PlaceSureness {
  Chance chance;  ///< that the need can be met, with taps turned anew
  /// Head over what is asked with all that is not known at its bad end, and at its good end.
  double bad_margin_m = 0.0, good_margin_m = 0.0;
  bool sampled() const { return chance.margin_m < 0.5 * nothing_asked_m; }
  bool certain() const { return sampled() && bad_margin_m >= 0.0; }
  /// What comes with the taps left as they are, in all but the worst and the best twentieth of the samples.
  double low_m3s = 0.0, high_m3s = 0.0;
};

struct Measurement {
  Influence influence;
  Binding point;  ///< of a survey: the high point that most often decides; line -1: its end
};

struct Sureness {
  int samples = 0;
  std::uint64_t seed = 0;
  std::vector<PlaceSureness> places;
  std::vector<Measurement> next;  ///< what scatters most first
  int one_by_one = 0;             ///< samples whose flows were not found together with others
  bool full_within = false;       ///< some need is one of time, which is not sampled
  bool velocity = false;          ///< some need bounds the velocity, which is not sampled either
};

/// Does `work(0)` to `work(count - 1)`, in any order, perhaps several at a time.
using ShareOut = std::function<void(std::size_t count, const std::function<void(std::size_t)>& work)>;
void one_after_the_other(std::size_t count, const std::function<void(std::size_t)>& work);

/// Gives the same figures however the work is shared. `model` has its taps as wide open as they go, `built`
/// has them set. Precondition: every line is laid; samples >= 2.
Sureness sureness(const network::Model& model, const network::Model& built, std::uint64_t seed, int samples,
                  const ShareOut& share_out = one_after_the_other);

/// The chances alone.
std::vector<Chance> chances_of(const network::Model& model, std::uint64_t seed, int samples,
                               const ShareOut& share_out = one_after_the_other);

}  // namespace runnel::sizing
