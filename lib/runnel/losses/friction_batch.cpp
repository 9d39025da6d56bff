#include "runnel/losses/friction_batch.h"

#include <algorithm>
#include <bit>
#include <cstring>

#include "runnel/losses/quick_math.h"

// One body, compiled for every width of the machine and chosen when the program runs.
#if defined(__x86_64__)
#define RUNNEL_FOR(name) __attribute__((target(name)))
#endif

namespace runnel::losses {
namespace {

struct Flows {
  std::size_t count;
  const double* flow_m3s;
  double *head_m, *slope_sm2;
};

template <int bytes>
struct Laws : Wide<bytes> {
  using V = typename Wide<bytes>::V;
  using I = typename Wide<bytes>::I;
  static constexpr std::size_t lanes = static_cast<std::size_t>(bytes) / sizeof(double);

  RUNNEL_INLINE static void load(const double* from, V& v) { std::memcpy(&v, from, sizeof v); }
  RUNNEL_INLINE static void store(const V& v, double* to) { std::memcpy(to, &v, sizeof v); }
  RUNNEL_INLINE static void size_of(const V& q, V& size) { size = (V)((I)q & 0x7FFFFFFFFFFFFFFFu); }

  /// PipeFriction::per_metre, Hazen-Williams.
  RUNNEL_INLINE static void hazen(const Flows& f, const FrictionBatch::Constants& c, double n, double n_high) {
    for (std::size_t i = 0; i < f.count; i += lanes) {
      V q, least, scale, linear, cubic, size, power;
      load(f.flow_m3s + i, q), load(c.switch_flow.data() + i, least), load(c.scale.data() + i, scale);
      load(c.linear.data() + i, linear), load(c.cubic.data() + i, cubic);
      size_of(q, size);
      Wide<bytes>::pow(size <= least ? least : size, n - 1.0, n_high, power);
      power = scale * power;
      const V bend = cubic * q * q;
      const V factor = size <= least ? linear + bend : power;
      store(factor * q, f.head_m + i);
      store(size <= least ? linear + 3.0 * bend : n * power, f.slope_sm2 + i);
    }
  }

  /// The step of [clamond2009], as in friction_factor.h.
  RUNNEL_INLINE static void improve(const V& x, const V& r, V& big_f) {
    const V sum = x + big_f, p = 1.0 + sum;
    big_f = big_f - (p * p + 0.5 * r) * r * sum / (p * (p * p + r) + r * r * (1.0 / 3.0));
  }

  /// `colebrook` of friction_factor.h, the logarithm apart.
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

  /// PipeFriction::per_metre, Darcy-Weisbach.
  RUNNEL_INLINE static void darcy(const Flows& f, const FrictionBatch::Constants& c) {
    constexpr double width = turbulent_start_re - laminar_end_re;
    for (std::size_t i = 0; i < f.count; i += lanes) {
      V q, scale, linear, per_flow, rough, bend, cubic, size, factor, re_slope;
      load(f.flow_m3s + i, q), load(c.scale.data() + i, scale), load(c.linear.data() + i, linear);
      load(c.reynolds_per_flow.data() + i, per_flow), load(c.relative_roughness.data() + i, rough);
      load(c.transition_quadratic.data() + i, bend), load(c.transition_cubic.data() + i, cubic);
      size_of(q, size);
      const V reynolds = size * per_flow;
      const V floor = V{} + turbulent_start_re;
      colebrook(reynolds < floor ? floor : reynolds, rough, factor, re_slope);
      const V t = (reynolds - laminar_end_re) * (1.0 / width);
      const V between = laminar_end_factor + t * (laminar_end_slope + t * (bend + t * cubic));
      const V between_slope = (laminar_end_slope + t * (2.0 * bend + t * 3.0 * cubic)) * reynolds * (1.0 / width);
      factor = reynolds < floor ? between : factor;
      re_slope = reynolds < floor ? between_slope : re_slope;
      const V scaled = scale * size, end = V{} + laminar_end_re;
      store((reynolds <= end ? linear : factor * scaled) * q, f.head_m + i);
      store(reynolds <= end ? linear : (2.0 * factor + re_slope) * scaled, f.slope_sm2 + i);
    }
  }

  RUNNEL_INLINE static void run(const Flows& f, const FrictionBatch::Constants& c) {
    if (c.law == Law::hazen_williams) hazen(f, c, c.exponent, c.exponent_high);
    else darcy(f, c);
  }
};

#ifdef RUNNEL_FOR
RUNNEL_FOR("avx512f,avx512dq") void run_512(const Flows& f, const FrictionBatch::Constants& c) { Laws<64>::run(f, c); }
RUNNEL_FOR("avx2") void run_256(const Flows& f, const FrictionBatch::Constants& c) { Laws<32>::run(f, c); }
#endif
void run_128(const Flows& f, const FrictionBatch::Constants& c) { Laws<16>::run(f, c); }

using Run = void (*)(const Flows&, const FrictionBatch::Constants&);

Run widest() {
#ifdef RUNNEL_FOR
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq")) return run_512;
  if (__builtin_cpu_supports("avx2")) return run_256;
#endif
  return run_128;
}

}  // namespace

template <class Put>
void FrictionBatch::put_constants(const PipeFriction& pipe, double length_m, Put&& put) {
  put(constants_.scale, pipe.scale_ * length_m);
  put(constants_.linear, pipe.linear_ * length_m);
  if (pipe.law_ == Law::hazen_williams) {
    put(constants_.switch_flow, pipe.switch_flow_);
    put(constants_.cubic, pipe.cubic_ * length_m);
  } else {
    put(constants_.reynolds_per_flow, pipe.reynolds_per_flow_);
    put(constants_.relative_roughness, pipe.factor_.relative_roughness_);
    put(constants_.transition_quadratic, pipe.factor_.quadratic_);
    put(constants_.transition_cubic, pipe.factor_.cubic_);
  }
}

bool FrictionBatch::add(const PipeFriction& pipe, double length_m) {
  if (count_ == 0) {
    constants_.law = pipe.law_;
    constants_.exponent = pipe.exponent_;
    const double power = pipe.exponent_ - 1.0;
    constants_.exponent_high = std::bit_cast<double>(std::bit_cast<std::uint64_t>(power) & 0xFFFFFFFFFF000000u);
  }
  if (!of_law(pipe)) return false;
  // Filled up with copies of a pipe, so that every vector is whole.
  put_constants(pipe, length_m, [this](std::vector<double>& all, double value) {
    if (all.capacity() < wanted_ + most_lanes) all.reserve(wanted_ + most_lanes);
    if (all.size() == count_) all.resize(count_ + most_lanes, value);
    all[count_] = value;
  });
  ++count_;
  return true;
}

bool FrictionBatch::set(std::size_t pipe_number, const PipeFriction& pipe, double length_m) {
  if (!of_law(pipe)) return false;
  put_constants(pipe, length_m, [&](std::vector<double>& all, double value) { all[pipe_number] = value; });
  return true;
}

void FrictionBatch::evaluate(const double* flow_m3s, double* head_m, double* slope_sm2) const {
  static const Run run = widest();
  run({padded_size(), flow_m3s, head_m, slope_sm2}, constants_);
}

}  // namespace runnel::losses
