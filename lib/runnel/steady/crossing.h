#pragma once
// What the high points and the mouth of a full pipe ask of the water that passes them one way. As long as
// there is clearly room for it, the pipe follows its end-to-end control alone, and no high point needs to be
// looked at by itself.
#include <algorithm>
#include <cmath>
#include <optional>

#include "runnel/steady/kernel.h"

namespace runnel::steady {

/// The lengths of a line's reaches, summed in another order, may differ by so much in rounding.
inline constexpr double rounding_of_lengths = 1e-13;

struct Crossing {
  double over_m = -unbounded;     ///< the highest head that a high point holds the water to
  double more_s2m5 = 0.0;         ///< by how much a quadratic loss up to a high point exceeds that to the end
  double drowned_m = -unbounded;  ///< under so high a source its mouth lets in `easy_m3s`
  double easy_m3s = unbounded;

  /// Of one way of a link with one friction term; nothing if one of its controls is not of this kind.
  static std::optional<Crossing> of(const Kernel& kernel, const Link& link, bool forward) {
    const std::uint32_t first = forward ? link.forward : link.backward;
    const std::uint32_t count = forward ? link.forwards : link.backwards;
    const Control& ends = kernel.controls[first];
    const double all_the_way_m = kernel.lengths_m[ends.lengths] * (1.0 + rounding_of_lengths);
    Crossing all;
    for (std::uint32_t c = first + 1; c < first + count; ++c) {
      const Control& control = kernel.controls[c];
      if (control.mouth >= 0) {
        const LinkMouth& mouth = kernel.mouths[static_cast<std::size_t>(control.mouth)];
        all.drowned_m = control.sink_head_m + mouth.easy_m;
        all.easy_m3s = mouth.easy_m3s;
        continue;
      }
      if (!control.from_node || control.to_node || kernel.lengths_m[control.lengths] > all_the_way_m)
        return std::nullopt;
      all.over_m = std::max(all.over_m, control.sink_head_m);
      all.more_s2m5 = std::max(all.more_s2m5, control.quadratic_s2m5 - ends.quadratic_s2m5);
    }
    return all;
  }

  /// Whether every high point certainly has as much room at this flow as the end has, and so cannot hold back
  /// what the end lets through. Up to a high point the water loses no more than up to the end, but for what
  /// `more_s2m5` says.
  bool clear(double flow_m3s, double smooth_m3s, double sink_m) const {
    const double fast_m3s = flow_m3s + smooth_m3s;
    return sink_m >= over_m + more_s2m5 * fast_m3s * fast_m3s;
  }
  /// Whether the mouth certainly lets this flow in.
  bool drowned(double flow_m3s, double source_m) const {
    return flow_m3s <= easy_m3s && source_m >= drowned_m;
  }
};

}  // namespace runnel::steady
