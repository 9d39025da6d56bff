#include "runnel/sizing/lane_tree.h"

#include "runnel/losses/friction_lanes.h"

// One body, compiled for every width of the machine and chosen when the program runs.
#if defined(__x86_64__)
#define RUNNEL_FOR(name) __attribute__((target(name)))
#endif

namespace runnel::sizing {
namespace {

// Newton squares the error: where a step moves no flow by more than this share, about 1e-10 of it is left.
constexpr double settled_share = 5e-6;
constexpr int most_steps = 30;
// An opening has no slope at rest, so it gets that of a hundredth of a millilitre a second.
constexpr double still_m3s = 1e-8;
// Flows below a millilitre in a quarter of an hour do not matter.
constexpr double trickle_m3s = 1e-9;

struct Arrays {
  const LaneTree& tree;
  const LaneInputs& in;
  double *flow_m3s, *per_metre, *head_m, *linear, *constants, *base_m3s, *by_head_m2s;
  bool* settled;
  int& steps;
};

// Figures of a branch in LaneFlows::linear.
enum Figure : std::size_t {
  offset_is,
  part_is,
  per_metre_is,
  metre_slope_is,
  local_is,
  factor_is,  ///< F of colebrook_from
  figures
};
// Figures of a line in LaneFlows::constants.
enum Constant : std::size_t { scale_is, linear_is, per_flow_is, rough_is, switch_is, cubic_is, constants };

/// `careful`: any flow may be laminar; otherwise all are taken as turbulent, which `run` checks.
template <int bytes, bool careful>
struct Sweep : losses::FrictionLanes<bytes> {
  using Lanes = losses::FrictionLanes<bytes>;
  using V = typename Lanes::V;
  using I = typename Lanes::I;

  RUNNEL_INLINE static void hazen_constants(const V& bore, const V& hazen_c, const LaneTree& tree,
                                            typename Lanes::Constants& c) {
    const auto& law = tree.law;
    V by_c, by_bore, slow;
    Lanes::pow(hazen_c, law.n, losses::first_bits(law.n), by_c);
    Lanes::pow(bore, law.m, losses::first_bits(law.m), by_bore);
    c.scale = law.k / (by_c * by_bore);
    const V area = 0.25 * pi * bore * bore;
    c.per_flow = bore / (area * tree.viscosity_m2s);
    c.switch_flow = 100.0 / c.per_flow;  // as PipeFriction has it
    c.linear = c.cubic = V{};
    if (!careful) return;  // slow flows are not considered
    Lanes::pow(c.switch_flow, law.n - 1.0, losses::first_bits(law.n - 1.0), slow);
    c.linear = c.scale * slow * ((3.0 - law.n) / 2.0);
    c.cubic = c.scale * slow / (c.switch_flow * c.switch_flow) * ((law.n - 1.0) / 2.0);
  }

  RUNNEL_INLINE static void load_at(const std::vector<double>& all, std::size_t i, V& v) {
    Lanes::load(all.data() + i, v);
  }

  RUNNEL_INLINE static double* constant(const Arrays& a, std::size_t line, std::size_t lane, Constant which) {
    return a.constants + (line * constants + which) * together + lane;
  }

  /// Once for all steps.
  RUNNEL_INLINE static void prepare(const Arrays& a, std::size_t lane) {
    for (std::size_t line = 0; line < a.tree.lines; ++line) {
      V bore, rough;
      load_at(a.in.bore_m, line * together + lane, bore);
      load_at(a.in.rough, line * together + lane, rough);
      typename Lanes::Constants c;
      if (a.tree.law.law == losses::Law::darcy_weisbach) {
        Lanes::darcy_constants(bore, rough, a.tree.viscosity_m2s, c);
        c.switch_flow = c.cubic = V{};
      } else {
        hazen_constants(bore, rough, a.tree, c);
        c.rough = V{};
      }
      Lanes::store(c.scale, constant(a, line, lane, scale_is));
      Lanes::store(c.linear, constant(a, line, lane, linear_is));
      Lanes::store(c.per_flow, constant(a, line, lane, per_flow_is));
      Lanes::store(c.rough, constant(a, line, lane, rough_is));
      Lanes::store(c.switch_flow, constant(a, line, lane, switch_is));
      Lanes::store(c.cubic, constant(a, line, lane, cubic_is));
    }
    for (std::size_t b = 0; b < a.tree.branches.size(); ++b) {
      const LaneTree::Branch& branch = a.tree.branches[b];
      V local = V{} + branch.opening_s2m5;
      if (branch.line >= 0 && branch.local_s2m5 > 0.0) {
        V bore;
        load_at(a.in.bore_m, static_cast<std::size_t>(branch.line) * together + lane, bore);
        const V ratio = a.tree.bore_m[static_cast<std::size_t>(branch.line)] / bore, square = ratio * ratio;
        local = branch.local_s2m5 * square * square + local;
      }
      Lanes::store(local, kept(a, b, lane, local_is));
      const V start = V{} + branch.start_m3s;
      Lanes::store(start, a.flow_m3s + b * together + lane);
      if (branch.line < 0 || a.tree.law.law != losses::Law::darcy_weisbach) continue;
      typename Lanes::Constants c;
      V big_f;
      Lanes::load(constant(a, static_cast<std::size_t>(branch.line), lane, per_flow_is), c.per_flow);
      Lanes::load(constant(a, static_cast<std::size_t>(branch.line), lane, rough_is), c.rough);
      Lanes::factor_near(start, c, big_f);
      Lanes::store(big_f, kept(a, b, lane, factor_is));
    }
  }

  /// Loss of a branch at a flow, and its slope; `per_metre`: of its pipe alone.
  RUNNEL_INLINE static void loss(const Arrays& a, std::size_t b, std::size_t lane, const V& q, I& slow,
                                 V& head, V& slope, V& per_metre, V& per_metre_slope) {
    const LaneTree::Branch& branch = a.tree.branches[b];
    V size, local;
    Lanes::size_of(q, size);
    Lanes::load(kept(a, b, lane, local_is), local);
    if (branch.line < 0) {
      head = local * size * q;
      slope = 2.0 * local * (size + still_m3s);
      per_metre = per_metre_slope = V{};
      return;
    }
    const auto line = static_cast<std::size_t>(branch.line);
    V length;
    load_at(a.in.length_m, line * together + lane, length);
    typename Lanes::Constants c;
    Lanes::load(constant(a, line, lane, scale_is), c.scale);
    Lanes::load(constant(a, line, lane, linear_is), c.linear);
    if (a.tree.law.law == losses::Law::darcy_weisbach) {
      V big_f;
      Lanes::load(constant(a, line, lane, per_flow_is), c.per_flow);
      Lanes::load(constant(a, line, lane, rough_is), c.rough);
      Lanes::load(kept(a, b, lane, factor_is), big_f);
      if (careful)
        Lanes::darcy_near(q, c, big_f, per_metre, per_metre_slope);
      else
        Lanes::darcy_turbulent(q, c, big_f, slow, per_metre, per_metre_slope);
      Lanes::store(big_f, kept(a, b, lane, factor_is));
    } else {
      Lanes::load(constant(a, line, lane, switch_is), c.switch_flow);
      Lanes::load(constant(a, line, lane, cubic_is), c.cubic);
      const double n = a.tree.law.n, n_high = losses::first_bits(n - 1.0);
      if (careful)
        Lanes::hazen(q, c, n, n_high, per_metre, per_metre_slope);
      else
        Lanes::hazen_turbulent(q, c, n, n_high, slow, per_metre, per_metre_slope);
    }
    head = per_metre * length + local * size * q;
    slope = per_metre_slope * length + 2.0 * local * size;
  }

  RUNNEL_INLINE static double* kept(const Arrays& a, std::size_t b, std::size_t lane, Figure figure) {
    return a.linear + (b * figures + figure) * together + lane;
  }

  /// False if some flow was not turbulent on the way.
  RUNNEL_INLINE static bool run(const Arrays& a, std::size_t lane) {
    const std::size_t branches = a.tree.branches.size();
    for (std::size_t p = 0; p < a.tree.places; ++p)
      if (a.tree.fixed[p]) {
        V head;
        load_at(a.in.head_m, p * together + lane, head);
        Lanes::store(head, a.head_m + p * together + lane);
      }
    prepare(a, lane);
    I done = I{}, slow = I{};  // lanes that have settled; sign bits of those that were not turbulent
    int step = 0;
    for (; step < most_steps; ++step) {
      for (std::size_t p = 0; p < a.tree.places; ++p) {
        Lanes::store(V{} + a.tree.draw_m3s[p], a.base_m3s + p * together + lane);
        Lanes::store(V{}, a.by_head_m2s + p * together + lane);
      }
      I slow_now = I{}, moves = I{}, moving;
      for (std::size_t b = branches; b-- > 0;) up(a, b, lane, slow_now);
      slow |= slow_now & ~done;
      for (std::size_t b = 0; b < branches; ++b) down(a, b, lane, done, moves);
      Lanes::spread(moves, moving);
      done |= ~moving;
      if (!Lanes::any(~done)) break;
    }
    a.steps = step + 1 > a.steps ? step + 1 : a.steps;
    for (std::size_t i = 0; i < Lanes::lanes; ++i) a.settled[lane + i] = done[i] != 0;
    for (std::size_t b = 0; b < branches; ++b)
      std::memcpy(a.per_metre + b * together + lane, kept(a, b, lane, per_metre_is), sizeof(V));
    return careful || !Lanes::any(slow >> 63);
  }

  /// From the ends to the sources: what every place passes on, as a function of its head.
  RUNNEL_INLINE static void up(const Arrays& a, std::size_t b, std::size_t lane, I& slow) {
    const LaneTree::Branch& branch = a.tree.branches[b];
    const std::size_t here = b * together + lane;
    const std::size_t above = static_cast<std::size_t>(branch.above) * together + lane;
    const std::size_t below = static_cast<std::size_t>(branch.below) * together + lane;
    V q, head, slope, per_metre, per_metre_slope;
    Lanes::load(a.flow_m3s + here, q);
    loss(a, b, lane, q, slow, head, slope, per_metre, per_metre_slope);
    Lanes::store(per_metre, kept(a, b, lane, per_metre_is));
    Lanes::store(per_metre_slope, kept(a, b, lane, metre_slope_is));
    // Head above - head below = slope * flow - offset.
    V offset = slope * q - head, base_above, by_head_above, part;
    Lanes::load(a.base_m3s + above, base_above);
    Lanes::load(a.by_head_m2s + above, by_head_above);
    if (a.tree.fixed[static_cast<std::size_t>(branch.below)]) {
      V end;
      Lanes::load(a.head_m + below, end);
      part = 1.0 / slope;
      offset = offset - end;
      base_above = base_above + offset * part;
      by_head_above = by_head_above + part;
    } else {
      V passed, passed_by_head;
      Lanes::load(a.base_m3s + below, passed);
      Lanes::load(a.by_head_m2s + below, passed_by_head);
      part = 1.0 / (1.0 + slope * passed_by_head);
      offset = offset - slope * passed;
      const V by_head = passed_by_head * part;
      base_above = base_above + (passed + by_head * offset);
      by_head_above = by_head_above + by_head;
    }
    Lanes::store(offset, kept(a, b, lane, offset_is));
    Lanes::store(part, kept(a, b, lane, part_is));
    Lanes::store(base_above, a.base_m3s + above);
    Lanes::store(by_head_above, a.by_head_m2s + above);
  }

  /// Settled lanes keep what they have, so that no sample depends on those beside it.
  RUNNEL_INLINE static void down(const Arrays& a, std::size_t b, std::size_t lane, const I& done, I& moves) {
    const LaneTree::Branch& branch = a.tree.branches[b];
    const std::size_t here = b * together + lane;
    const std::size_t below = static_cast<std::size_t>(branch.below) * together + lane;
    V offset, part, per_metre, per_metre_slope, upper, q, flow;
    Lanes::load(kept(a, b, lane, offset_is), offset);
    Lanes::load(kept(a, b, lane, part_is), part);
    Lanes::load(kept(a, b, lane, per_metre_is), per_metre);
    Lanes::load(kept(a, b, lane, metre_slope_is), per_metre_slope);
    Lanes::load(a.head_m + static_cast<std::size_t>(branch.above) * together + lane, upper);
    Lanes::load(a.flow_m3s + here, q);
    flow = (upper + offset) * part;
    if (!a.tree.fixed[static_cast<std::size_t>(branch.below)]) {
      const V now = flow;  // the head of its lower end
      V head, passed, passed_by_head;
      Lanes::load(a.head_m + below, head);
      Lanes::load(a.base_m3s + below, passed);
      Lanes::load(a.by_head_m2s + below, passed_by_head);
      flow = passed + passed_by_head * now;
      Lanes::choose(done, head, now, head);
      Lanes::store(head, a.head_m + below);
    }
    V step, size, metre;
    Lanes::size_of(flow - q, step);
    Lanes::size_of(flow, size);
    moves |= (I)(settled_share * (size + trickle_m3s) - step);  // below zero if it moved too far
    // The loss of a metre follows to the second order.
    Lanes::choose(done, per_metre, per_metre + per_metre_slope * (flow - q), metre);
    Lanes::choose(done, q, flow, flow);
    Lanes::store(metre, kept(a, b, lane, per_metre_is));
    Lanes::store(flow, a.flow_m3s + here);
  }
};

/// Lanes whose flows are not all turbulent are worked out again with care. A sample that needs this gets it
/// whatever lies beside it, and one that does not gets the same figures either way.
template <int bytes>
RUNNEL_INLINE void sweep(const Arrays& a) {
  for (std::size_t lane = 0; lane < together; lane += static_cast<std::size_t>(bytes) / sizeof(double))
    if (!Sweep<bytes, false>::run(a, lane)) Sweep<bytes, true>::run(a, lane);
}

#ifdef RUNNEL_FOR
RUNNEL_FOR("avx512f,avx512dq") void run_512(const Arrays& a) { sweep<64>(a); }
RUNNEL_FOR("avx2") void run_256(const Arrays& a) { sweep<32>(a); }
#endif
void run_128(const Arrays& a) { sweep<16>(a); }

using Run = void (*)(const Arrays&);

Run of_width(Width width) {
#ifdef RUNNEL_FOR
  const bool eight = __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq");
  const bool four = __builtin_cpu_supports("avx2");
  if ((width == Width::best || width == Width::eight) && eight) return run_512;
  if ((width == Width::best || width == Width::four) && four) return run_256;
  if (width == Width::eight || width == Width::four) return nullptr;
#endif
  return run_128;
}

}  // namespace

bool solve(const LaneTree& tree, const LaneInputs& inputs, LaneFlows& flows, Width width) {
  const Run run = of_width(width);
  if (!run) return false;
  const std::size_t branches = tree.branches.size();
  flows.flow_m3s.resize(branches * together);
  flows.per_metre.resize(branches * together);
  flows.linear.resize(branches * figures * together);
  flows.constants.resize(tree.lines * constants * together);
  for (auto* places : {&flows.head_m, &flows.base_m3s, &flows.by_head_m2s})
    places->resize(tree.places * together);
  flows.steps = 0;
  run({tree, inputs, flows.flow_m3s.data(), flows.per_metre.data(), flows.head_m.data(), flows.linear.data(),
       flows.constants.data(), flows.base_m3s.data(), flows.by_head_m2s.data(), flows.settled, flows.steps});
  return true;
}

}  // namespace runnel::sizing
