#pragma once
// The friction of full pipes, several per instruction: the laws of friction.h and friction_factor.h with the
// same operations in the same order, so that every vector width gives the same figures. For sources that are
// compiled once per width; see friction_batch.cpp.
#include <cstring>

#include "runnel/base/constants.h"
#include "runnel/losses/friction_factor.h"
#include "runnel/losses/quick_math.h"
#include "runnel/losses/transition.h"

namespace runnel::losses {

template <int bytes>
struct FrictionLanes : Wide<bytes> {
  using V = typename Wide<bytes>::V;
  using I = typename Wide<bytes>::I;
  static constexpr std::size_t lanes = static_cast<std::size_t>(bytes) / sizeof(double);

  RUNNEL_INLINE static void load(const double* from, V& v) { std::memcpy(&v, from, sizeof v); }
  RUNNEL_INLINE static void store(const V& v, double* to) { std::memcpy(to, &v, sizeof v); }
  RUNNEL_INLINE static void size_of(const V& q, V& size) { size = (V)((I)q & 0x7FFFFFFFFFFFFFFFu); }
  // Lanes are chosen by bit masks, because compilers that learn the vector width only where this is inlined
  // split comparisons into single lanes.
  /// All bits of the lanes whose sign bit is set.
  RUNNEL_INLINE static void spread(const I& signs, I& mask) { mask = 0 - (signs >> 63); }
  /// `a` in the lanes of the mask, `b` elsewhere.
  RUNNEL_INLINE static void choose(const I& mask, const V& a, const V& b, V& chosen) {
    chosen = (V)(((I)a & mask) | ((I)b & ~mask));
  }
  RUNNEL_INLINE static bool any(const I& mask) {
    typedef std::uint64_t Two __attribute__((vector_size(16)));
    Two all, next;
    std::memcpy(&all, &mask, sizeof all);
    for (std::size_t i = 1; i < sizeof mask / sizeof all; ++i) {
      std::memcpy(&next, reinterpret_cast<const char*>(&mask) + i * sizeof all, sizeof all);
      all |= next;
    }
    return (all[0] | all[1]) != 0;
  }

  /// What a loss is computed from; names as in PipeFriction and DarcyFactor. `bend` and `cubic` are those of
  /// the transition (Darcy-Weisbach) or, `cubic` alone, of the slow end (Hazen-Williams).
  struct Constants {
    V scale, linear, per_flow, rough, bend, cubic, switch_flow;
  };

  /// The step of [clamond2009], as in friction_factor.h.
  RUNNEL_INLINE static void improve(const V& x, const V& r, V& big_f) {
    const V sum = x + big_f, p = 1.0 + sum;
    big_f = big_f - (p * p + 0.5 * r) * r * sum / (p * (p * p + r) + r * r * (1.0 / 3.0));
  }

  /// `colebrook` of friction_factor.h, except for the logarithm.
  RUNNEL_INLINE static void colebrook(const V& reynolds, const V& rough, V& factor, V& re_slope) {
    const V w = reynolds * 0.458682289441044957, x = w * rough * (1.0 / 3.7);
    V start, log;
    Wide<bytes>::rough_log(w, start);
    start = start - 0.2;
    Wide<bytes>::rough_log(x + start, log);
    V big_f = start;
    improve(x, log - 0.2, big_f);
    Wide<bytes>::log((x + big_f) / w, log);
    improve(x, big_f + log, big_f);
    const V p = x + big_f + 1.0, both = 1.3254745276195996026 / (big_f * big_f * p);
    factor = both * p;
    re_slope = -2.0 * both;
  }

  /// The same from a value of F near the solution (off by e, it leaves 3e-5 e^4), which is replaced by the
  /// better one: one logarithm and no starting value.
  RUNNEL_INLINE static void colebrook_from(const V& reynolds, const V& rough, V& big_f, V& factor,
                                           V& re_slope) {
    const V w = reynolds * 0.458682289441044957, x = w * rough * (1.0 / 3.7);
    V log;
    Wide<bytes>::log((x + big_f) / w, log);
    // The step of `improve` and the factor after it, with a single division: F = over / under.
    const V r = big_f + log, sum = x + big_f, p = 1.0 + sum;
    const V under = p * (p * p + r) + r * r * (1.0 / 3.0);
    const V over = big_f * under - (p * p + 0.5 * r) * r * sum, next = (x + 1.0) * under + over;
    const V over2 = over * over, all = 1.0 / (over2 * next * under);
    factor = 1.3254745276195996026 * under * under * under * (next * all);
    re_slope = -2.0 * 1.3254745276195996026 * under * under * under * (under * all);
    big_f = over * (over2 * next * all);
  }

  /// DarcyFactor's constructor: the transition of a relative roughness.
  RUNNEL_INLINE static void transition(const V& rough, V& bend, V& cubic) {
    constexpr double width = turbulent_start_re - laminar_end_re;
    V factor, re_slope;
    colebrook(V{} + turbulent_start_re, rough, factor, re_slope);
    const V end_slope = re_slope / turbulent_start_re * width;
    bend = 3.0 * (factor - laminar_end_factor) - 2.0 * laminar_end_slope - end_slope;
    cubic = 2.0 * (laminar_end_factor - factor) + laminar_end_slope + end_slope;
  }

  /// PipeFriction's constructor for Darcy-Weisbach, without the transition.
  RUNNEL_INLINE static void darcy_constants(const V& bore_m, const V& roughness_m, double viscosity_m2s,
                                            Constants& c) {
    const V inverse = 1.0 / bore_m, square = inverse * inverse;
    c.per_flow = inverse * (4.0 / (pi * viscosity_m2s));
    c.rough = roughness_m * inverse;
    c.scale = square * square * inverse * (8.0 / (gravity_ms2 * pi * pi));
    c.linear = square * square * (128.0 * viscosity_m2s / (gravity_ms2 * pi));
  }

  /// PipeFriction::per_metre, Darcy-Weisbach, from the turbulent factor at Re or at 4000 if Re is less.
  RUNNEL_INLINE static void darcy_from(const V& q, const V& size, const V& reynolds, const Constants& c,
                                       V& factor, V& re_slope, V& head, V& slope) {
    constexpr double width = turbulent_start_re - laminar_end_re;
    const V floor = V{} + turbulent_start_re, end = V{} + laminar_end_re;
    const V t = (reynolds - laminar_end_re) * (1.0 / width);
    const V between = laminar_end_factor + t * (laminar_end_slope + t * (c.bend + t * c.cubic));
    const V between_slope =
        (laminar_end_slope + t * (2.0 * c.bend + t * 3.0 * c.cubic)) * reynolds * (1.0 / width);
    factor = reynolds < floor ? between : factor;
    re_slope = reynolds < floor ? between_slope : re_slope;
    const V scaled = c.scale * size;
    head = (reynolds <= end ? c.linear : factor * scaled) * q;
    slope = reynolds <= end ? c.linear : (2.0 * factor + re_slope) * scaled;
  }

  RUNNEL_INLINE static void darcy(const V& q, const Constants& c, V& head, V& slope) {
    V size, factor, re_slope;
    size_of(q, size);
    const V reynolds = size * c.per_flow, floor = V{} + turbulent_start_re;
    colebrook(reynolds < floor ? floor : reynolds, c.rough, factor, re_slope);
    darcy_from(q, size, reynolds, c, factor, re_slope, head, slope);
  }

  RUNNEL_INLINE static void to_the_4th(const V& x, V& power) {
    const V square = x * x;
    power = square * square;
  }

  /// churchill_factor of transition.h, from `churchill_from_re` on.
  RUNNEL_INLINE static void churchill(const V& reynolds, const V& rough, V& factor, V& re_slope) {
    const V inverse = 1.0 / reynolds;
    V eighth, smooth, log, a, b, turbulent, twelfth;
    to_the_4th(8.0 * inverse, eighth);
    const V laminar = eighth * eighth * eighth;
    Wide<bytes>::pow(7.0 * inverse, 0.9, first_bits(0.9), smooth);
    const V sum = smooth + 0.27 * rough;
    Wide<bytes>::log(sum, log);
    const V root = 2.457 * log;
    to_the_4th(root, a), to_the_4th(a, a);
    to_the_4th(37530.0 * inverse, b), to_the_4th(b, b);
    const V a_slope = (16.0 * -2.457 * 0.9) * a * smooth / (root * sum), both = a + b;
    Wide<bytes>::pow(both, -1.5, first_bits(-1.5), turbulent);
    const V all = laminar + turbulent;
    Wide<bytes>::pow(all, 1.0 / 12.0, first_bits(1.0 / 12.0), twelfth);
    factor = 8.0 * twelfth;
    re_slope =
        factor * (1.0 / 12.0) * (-1.5 * turbulent * (a_slope - 16.0 * b) / both - 12.0 * laminar) / all;
  }

  /// PipeFriction::per_metre, Darcy-Weisbach, by the worse of two laws (transition.h).
  RUNNEL_INLINE static void darcy_worse(const V& q, const Constants& c, V& head, V& slope) {
    V size, factor, re_slope, other, other_slope;
    size_of(q, size);
    const V reynolds = size * c.per_flow, floor = V{} + turbulent_start_re, end = V{} + laminar_end_re;
    const V least = V{} + churchill_from_re, moving = reynolds < least ? least : reynolds;
    colebrook(moving < floor ? floor : moving, c.rough, factor, re_slope);
    darcy_from(q, size, reynolds, c, factor, re_slope, head, slope);
    factor = moving <= end ? 64.0 / moving : factor;
    churchill(moving, c.rough, other, other_slope);
    const V scaled = c.scale * size;
    const I worse = (I)(factor < other) & (I)(reynolds > least);
    choose(worse, other * scaled * q, head, head);
    choose(worse, (2.0 * other + other_slope) * scaled, slope, slope);
  }

  /// For flows that are turbulent: lanes where they are not set the sign bit of `slow`, to be looked at
  /// afterwards. `big_f` as in `colebrook_from`.
  RUNNEL_INLINE static void darcy_turbulent(const V& q, const Constants& c, V& big_f, I& slow, V& head,
                                            V& slope) {
    V size, factor, re_slope;
    size_of(q, size);
    const V reynolds = size * c.per_flow, short_of = reynolds - turbulent_start_re;
    slow |= (I)short_of;
    colebrook_from(reynolds, c.rough, big_f, factor, re_slope);
    const V scaled = c.scale * size;
    head = factor * scaled * q;
    slope = (2.0 * factor + re_slope) * scaled;
  }

  /// The same for any flow.
  RUNNEL_INLINE static void darcy_near(const V& q, Constants& c, V& big_f, V& head, V& slope) {
    V size, factor, re_slope;
    size_of(q, size);
    const V reynolds = size * c.per_flow, floor = V{} + turbulent_start_re;
    colebrook_from(reynolds < floor ? floor : reynolds, c.rough, big_f, factor, re_slope);
    transition(c.rough, c.bend, c.cubic);
    darcy_from(q, size, reynolds, c, factor, re_slope, head, slope);
  }

  /// A starting value of F, off by 0.01 at most.
  RUNNEL_INLINE static void factor_near(const V& q, const Constants& c, V& big_f) {
    V size, log;
    size_of(q, size);
    const V reynolds = size * c.per_flow, floor = V{} + turbulent_start_re;
    const V w = (reynolds < floor ? floor : reynolds) * 0.458682289441044957, x = w * c.rough * (1.0 / 3.7);
    Wide<bytes>::rough_log(w, big_f);
    big_f = big_f - 0.2;
    const V sum = x + big_f;
    Wide<bytes>::rough_log(sum, log);
    improve(x, log - 0.2, big_f);
  }

  /// Hazen-Williams by its power law; lanes at the slow end set the sign bit of `slow`.
  RUNNEL_INLINE static void hazen_turbulent(const V& q, const Constants& c, double n, double n_high, I& slow,
                                            V& head, V& slope) {
    V size, power;
    size_of(q, size);
    const V beyond = size - c.switch_flow;
    slow |= (I)beyond;
    const V above_zero = size + 1e-300;
    Wide<bytes>::pow(above_zero, n - 1.0, n_high, power);
    power = c.scale * power;
    head = power * q;
    slope = n * power;
  }

  /// PipeFriction::per_metre, Hazen-Williams.
  RUNNEL_INLINE static void hazen(const V& q, const Constants& c, double n, double n_high, V& head,
                                  V& slope) {
    V size, power;
    size_of(q, size);
    Wide<bytes>::pow(size <= c.switch_flow ? c.switch_flow : size, n - 1.0, n_high, power);
    power = c.scale * power;
    const V bend = c.cubic * q * q;
    const V factor = size <= c.switch_flow ? c.linear + bend : power;
    head = factor * q;
    slope = size <= c.switch_flow ? c.linear + 3.0 * bend : n * power;
  }
};

}  // namespace runnel::losses
