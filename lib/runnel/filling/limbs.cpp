// Draining under a falling head: the flows at an instant, and the integration over the volume that has left.
#include "runnel/filling/limbs.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "runnel/base/constants.h"
#include "runnel/base/roots.h"

namespace runnel::filling {
namespace {

/// The height of the surface in a limb that still holds a given volume, and the loss of a flow below it.
class Column {
 public:
  explicit Column(const Limb& limb) : limb_(limb) {}

  double height_m(double volume_m3) const {
    double height = 0.0;
    for (const LimbPiece& piece : limb_.pieces) {
      const double share = share_of(piece, volume_m3);
      height = piece.bottom_m + share * (piece.top_m - piece.bottom_m);
      if (share < 1.0) break;
      volume_m3 -= piece.volume_m3();
    }
    return height;
  }

  double loss_m(double volume_m3, double flow_m3s) const {
    double loss = 0.0;
    for (const LimbPiece& piece : limb_.always_full) loss += loss_of(piece, 1.0, flow_m3s);
    for (const LimbPiece& piece : limb_.pieces) {
      const double share = share_of(piece, volume_m3);
      loss += loss_of(piece, share, flow_m3s);
      if (share < 1.0) break;
      volume_m3 -= piece.volume_m3();
    }
    return loss;
  }

  /// The flow that a column drives with `spare_m` of head, at most `most_m3s`.
  double flow_m3s(double volume_m3, double spare_m, double most_m3s) const {
    if (spare_m <= 0.0 || volume_m3 <= 0.0) return 0.0;
    return bracketed_root([&](double q) { return loss_m(volume_m3, q) - spare_m; }, 0.0, most_m3s);
  }

 private:
  static double share_of(const LimbPiece& piece, double volume_m3) {
    return std::clamp(volume_m3 / piece.volume_m3(), 0.0, 1.0);
  }
  static double loss_of(const LimbPiece& piece, double share, double flow_m3s) {
    const double velocity = flow_m3s / piece.area_m2;
    return share * (piece.length_m * piece.friction.per_metre(flow_m3s).head_m +
                    piece.loss * velocity * velocity / (2.0 * gravity_ms2));
  }

  const Limb& limb_;
};

struct State {
  double time_s = 0.0;
  std::vector<double> volume_m3;  ///< one a limb
};

class Drainage {
 public:
  Drainage(const std::vector<Limb>& limbs, double bore_m, double cd)
      : opening_m2_(cd * std::numbers::pi / 4.0 * bore_m * bore_m) {
    for (const Limb& limb : limbs) columns_.emplace_back(limb);
  }

  double height_m(const State& state) const {
    double height = 0.0;
    for (std::size_t i = 0; i < columns_.size(); ++i)
      if (state.volume_m3[i] > 0.0) height = std::max(height, columns_[i].height_m(state.volume_m3[i]));
    return height;
  }

  /// What each limb gives. The head before the opening is such that together they give what it lets out.
  std::vector<double> flows_m3s(const State& state) const {
    const double top_m = height_m(state), most_m3s = out_m3s(top_m);
    const auto flow = [&](std::size_t i, double head_m) {
      return columns_[i].flow_m3s(state.volume_m3[i], columns_[i].height_m(state.volume_m3[i]) - head_m,
                                  most_m3s);
    };
    const double head_m = bracketed_root(
        [&](double head) {
          double surplus = out_m3s(head);
          for (std::size_t i = 0; i < columns_.size(); ++i) surplus -= flow(i, head);
          return surplus;
        },
        0.0, top_m);
    std::vector<double> flows;
    double sum_m3s = 0.0;
    for (std::size_t i = 0; i < columns_.size(); ++i) sum_m3s += flows.emplace_back(flow(i, head_m));
    // Where friction is very small, the law of the opening gives the flow more exactly than the limbs do.
    for (double& q : flows) q *= sum_m3s > 0.0 ? out_m3s(head_m) / sum_m3s : 0.0;
    return flows;
  }

  /// The state after `left_m3` more has left.
  State after(const State& from, double left_m3) const {
    const State a = slope(from), b = slope(moved(from, a, 0.5 * left_m3)),
                c = slope(moved(from, b, 0.5 * left_m3)), d = slope(moved(from, c, left_m3));
    State to = from;
    for (const auto& [k, weight] : {std::pair{&a, 1.0}, {&b, 2.0}, {&c, 2.0}, {&d, 1.0}})
      to = moved(to, *k, weight / 6.0 * left_m3);
    return to;
  }

 private:
  double out_m3s(double head_m) const { return opening_m2_ * std::sqrt(2.0 * gravity_ms2 * head_m); }

  State slope(const State& at) const {
    State k;
    k.volume_m3 = flows_m3s(at);
    double sum = 0.0;
    for (const double q : k.volume_m3) sum += q;
    for (double& q : k.volume_m3) q /= -sum;
    k.time_s = 1.0 / sum;
    return k;
  }
  static State moved(State from, const State& k, double by_m3) {
    from.time_s += k.time_s * by_m3;
    for (std::size_t i = 0; i < from.volume_m3.size(); ++i) from.volume_m3[i] += k.volume_m3[i] * by_m3;
    return from;
  }

  std::vector<Column> columns_;
  double opening_m2_;
};

double total_m3(const State& state) {
  double sum = 0.0;
  for (const double v : state.volume_m3) sum += std::max(v, 0.0);
  return sum;
}

}  // namespace

double Limb::volume_m3() const {
  double sum = 0.0;
  for (const LimbPiece& piece : pieces) sum += piece.volume_m3();
  return sum;
}

Draining drain(const std::vector<Limb>& limbs, double bore_m, double cd, double end_m) {
  // Each step is a share of what is left, since the flow falls with the square root of the height.
  constexpr double share = 0.02;
  const Drainage drainage(limbs, bore_m, cd);
  State now;
  for (const Limb& limb : limbs) now.volume_m3.push_back(limb.volume_m3());
  Draining out;
  if (drainage.height_m(now) <= end_m) return out;
  for (const double q : drainage.flows_m3s(now)) out.first_m3s += q;
  const double all_m3 = total_m3(now);
  State next = now;
  double step_m3 = 0.0;
  do {
    now = next;
    step_m3 = share * total_m3(now);
    next = drainage.after(now, step_m3);
  } while (drainage.height_m(next) > end_m);
  const double last_m3 = bracketed_root(
      [&](double left) { return end_m - drainage.height_m(drainage.after(now, left)); }, 0.0, step_m3);
  now = drainage.after(now, last_m3);
  out.time_s = now.time_s;
  out.drained_m3 = all_m3 - total_m3(now);
  return out;
}

}  // namespace runnel::filling
