#include "runnel/proof/check_law.h"

#include <algorithm>
#include <cmath>

namespace runnel::proof {
namespace {

constexpr LongReal pi_wide = 3.14159265358979323846264338327950288L;
constexpr LongReal g_ms2 = 9.80665L;  // standard gravity, exact by definition

struct Turbulent {
  LongReal factor, slope;  // df/dRe
};

/// Colebrook-White for x = 1/sqrt(f) by Newton's method: x + (2/ln 10) ln(rel/3.7 + 2.51 x/Re) rises with x
/// and is concave, so from the second pass on the root is approached from one side.
Turbulent colebrook_white(LongReal reynolds, LongReal relative) {
  const LongReal ten = std::log(10.0L);
  LongReal x = 6.0L, inside = 0.0L;
  for (int pass = 0; pass < 200; ++pass) {
    inside = relative / 3.7L + 2.51L * x / reynolds;
    const LongReal over = x + 2.0L * std::log(inside) / ten;
    const LongReal change = over / (1.0L + 2.0L / ten * 2.51L / (reynolds * inside));
    x = std::max(x - change, 0.1L * x);
    if (std::fabs(change) <= 1e-10L * x) break;  // the next relative change would be of the order 1e-20
  }
  // x + (2/ln 10) ln(rel/3.7 + 2.51 x/Re) = 0, differentiated with respect to Re.
  const LongReal weight = 2.0L / ten * 2.51L / (reynolds * inside);
  const LongReal dx = weight * x / reynolds / (1.0L + weight);
  return {1.0L / (x * x), -2.0L * dx / (x * x * x)};
}

LongReal hermite(LongReal reynolds, LongReal relative) {
  const Turbulent end = colebrook_white(4000.0L, relative);
  const LongReal width = 2000.0L, t = (reynolds - 2000.0L) / width;
  const LongReal f0 = 64.0L / 2000.0L, d0 = -64.0L / (2000.0L * 2000.0L) * width;
  const LongReal f1 = end.factor, d1 = end.slope * width;
  const LongReal s = 1.0L - t;
  return f0 * (1 + 2 * t) * s * s + d0 * t * s * s + f1 * t * t * (3 - 2 * t) - d1 * t * t * s;
}

/// One formula for all regimes [churchill1977].
LongReal churchill_1977(LongReal reynolds, LongReal relative) {
  const LongReal inside = std::pow(7.0L / reynolds, 0.9L) + 0.27L * relative;
  const LongReal a = std::pow(-2.457L * std::log(inside), 16.0L), b = std::pow(37530.0L / reynolds, 16.0L);
  return 8.0L * std::pow(std::pow(8.0L / reynolds, 12.0L) + std::pow(a + b, -1.5L), 1.0L / 12.0L);
}

LongReal darcy(const PlainPipe& pipe, bool worse, LongReal reynolds, LongReal flow_m3s) {
  const LongReal relative = pipe.roughness_m / pipe.bore_m;
  LongReal factor = reynolds <= 2000.0L  ? 64.0L / reynolds
                    : reynolds < 4000.0L ? hermite(reynolds, relative)
                                         : colebrook_white(reynolds, relative).factor;
  if (worse && reynolds > 1.0L) factor = std::max(factor, churchill_1977(reynolds, relative));
  return factor / pipe.bore_m * pipe.velocity_head_s2m5() * flow_m3s * flow_m3s;
}

LongReal hazen(const losses::FrictionLaw& law, const PlainPipe& pipe, LongReal reynolds, LongReal flow_m3s) {
  const LongReal n = law.n;
  const auto power = [&](LongReal q) {
    return law.k * std::pow(q, n) / (std::pow(pipe.hazen_c, n) * std::pow(pipe.bore_m, LongReal(law.m)));
  };
  if (reynolds > 100.0L) return power(flow_m3s);
  // a r + b r^3 in r = Q / Q(Re 100), with a + b = 1 and a + 3 b = n.
  const LongReal r = reynolds / 100.0L, b = (n - 1.0L) / 2.0L;
  return power(flow_m3s / r) * ((1.0L - b) * r + b * r * r * r);
}

}  // namespace

LongReal PlainPipe::area_m2() const { return pi_wide * bore_m * bore_m / 4.0L; }

LongReal PlainPipe::velocity_head_s2m5() const { return 1.0L / (2.0L * g_ms2 * area_m2() * area_m2()); }

LongReal plain_friction(const losses::FrictionLaw& law, const PlainPipe& pipe, LongReal viscosity_m2s,
                        LongReal flow_m3s) {
  if (!(flow_m3s > 0.0L)) return 0.0L;
  const LongReal reynolds = flow_m3s * pipe.bore_m / (pipe.area_m2() * viscosity_m2s);
  switch (law.law) {
    case losses::Law::darcy_weisbach:
      return darcy(pipe, law.worse_transition, reynolds, flow_m3s);
    case losses::Law::hazen_williams:
      break;
  }
  return hazen(law, pipe, reynolds, flow_m3s);
}

LongReal plain_change_k(LongReal from_bore_m, LongReal to_bore_m) {
  if (from_bore_m <= to_bore_m) {
    const LongReal lost = 1.0L - (from_bore_m * from_bore_m) / (to_bore_m * to_bore_m);
    return lost * lost;
  }
  return 0.5L * (1.0L - (to_bore_m * to_bore_m) / (from_bore_m * from_bore_m));
}

}  // namespace runnel::proof
