#include "runnel/losses/friction_batch.h"

#include <algorithm>

#include "runnel/losses/friction_lanes.h"

// One body, compiled for each vector width; the widest that the machine has is chosen at run time.
#if defined(__x86_64__)
#define RUNNEL_FOR(name) __attribute__((target(name)))
#endif

namespace runnel::losses {
namespace {

struct Flows {
  std::size_t first, end;
  const double* flow_m3s;
  double *head_m, *slope_sm2;
};

template <int bytes>
struct Laws : FrictionLanes<bytes> {
  using Lanes = FrictionLanes<bytes>;
  using V = typename Lanes::V;

  RUNNEL_INLINE static void hazen(const Flows& f, const FrictionBatch::Constants& c, double n,
                                  double n_high) {
    for (std::size_t i = f.first; i < f.end; i += Lanes::lanes) {
      V q, head, slope;
      typename Lanes::Constants of;
      Lanes::load(f.flow_m3s + i, q), Lanes::load(c.switch_flow.data() + i, of.switch_flow);
      Lanes::load(c.scale.data() + i, of.scale), Lanes::load(c.linear.data() + i, of.linear);
      Lanes::load(c.cubic.data() + i, of.cubic);
      Lanes::hazen(q, of, n, n_high, head, slope);
      Lanes::store(head, f.head_m + i), Lanes::store(slope, f.slope_sm2 + i);
    }
  }

  template <bool worse>
  RUNNEL_INLINE static void darcy(const Flows& f, const FrictionBatch::Constants& c) {
    for (std::size_t i = f.first; i < f.end; i += Lanes::lanes) {
      V q, head, slope;
      typename Lanes::Constants of;
      Lanes::load(f.flow_m3s + i, q), Lanes::load(c.scale.data() + i, of.scale);
      Lanes::load(c.linear.data() + i, of.linear), Lanes::load(c.reynolds_per_flow.data() + i, of.per_flow);
      Lanes::load(c.relative_roughness.data() + i, of.rough);
      Lanes::load(c.transition_quadratic.data() + i, of.bend);
      Lanes::load(c.transition_cubic.data() + i, of.cubic);
      if constexpr (worse)
        Lanes::darcy_worse(q, of, head, slope);
      else
        Lanes::darcy(q, of, head, slope);
      Lanes::store(head, f.head_m + i), Lanes::store(slope, f.slope_sm2 + i);
    }
  }

  RUNNEL_INLINE static void run(const Flows& f, const FrictionBatch::Constants& c) {
    switch (c.law) {
      case Law::hazen_williams:
        return hazen(f, c, c.exponent, c.exponent_high);
      case Law::darcy_weisbach:
        return c.worse_transition ? darcy<true>(f, c) : darcy<false>(f, c);
    }
  }
};

#ifdef RUNNEL_FOR
RUNNEL_FOR("avx512f,avx512dq") void run_512(const Flows& f, const FrictionBatch::Constants& c) {
  Laws<64>::run(f, c);
}
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

void quickest(const Flows& f, const FrictionBatch::Constants& c) {
  static const Run run = widest();
  run(f, c);
}

}  // namespace

template <class Put>
void FrictionBatch::put_constants(const PipeFriction& pipe, double length_m, Put&& put) {
  put(constants_.scale, pipe.scale_ * length_m);
  put(constants_.linear, pipe.linear_ * length_m);
  switch (pipe.law_) {
    case Law::hazen_williams:
      put(constants_.switch_flow, pipe.switch_flow_);
      put(constants_.cubic, pipe.cubic_ * length_m);
      break;
    case Law::darcy_weisbach:
      put(constants_.reynolds_per_flow, pipe.reynolds_per_flow_);
      put(constants_.relative_roughness, pipe.factor_.relative_roughness_);
      put(constants_.transition_quadratic, pipe.factor_.quadratic_);
      put(constants_.transition_cubic, pipe.factor_.cubic_);
      break;
  }
}

bool FrictionBatch::add(const PipeFriction& pipe, double length_m) {
  if (count_ == 0) {
    constants_.law = pipe.law_;
    constants_.exponent = pipe.exponent_;
    constants_.exponent_high = first_bits(pipe.exponent_ - 1.0);
    constants_.worse_transition = pipe.worse_;
  }
  if (!of_law(pipe)) return false;
  // Padded with copies of a pipe, so that every vector is complete.
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
  quickest({0, padded_size(), flow_m3s, head_m, slope_sm2}, constants_);
}

void FrictionBatch::evaluate_around(std::size_t pipe_number, const double* flow_m3s, double* head_m,
                                    double* slope_sm2) const {
  const std::size_t first = pipe_number / most_lanes * most_lanes;
  quickest({first, first + most_lanes, flow_m3s, head_m, slope_sm2}, constants_);
}

}  // namespace runnel::losses
