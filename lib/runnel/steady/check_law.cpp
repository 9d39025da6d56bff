#include "runnel/steady/check_law.h"

#include <cmath>

namespace runnel::steady {
namespace {

constexpr Wide pi_wide = 3.14159265358979323846264338327950288L;
constexpr Wide g_ms2 = 9.80665L;  // standard gravity, exact by definition

struct Turbulent {
  Wide factor, slope;  // df/dRe
};

/// Colebrook-White for x = 1/sqrt(f) by repeated substitution: each pass gains at least half a digit.
Turbulent colebrook_white(Wide reynolds, Wide relative) {
  const Wide ten = std::log(10.0L);
  Wide x = 6.0L, inside = 0.0L;
  for (int pass = 0; pass < 200; ++pass) {
    inside = relative / 3.7L + 2.51L * x / reynolds;
    const Wide next = -2.0L * std::log(inside) / ten;
    const bool same = std::fabs(next - x) <= 1e-18L * x;
    x = next;
    if (same) break;
  }
  // x + (2/ln 10) ln(rel/3.7 + 2.51 x/Re) = 0, differentiated with respect to Re.
  const Wide weight = 2.0L / ten * 2.51L / (reynolds * inside);
  const Wide dx = weight * x / reynolds / (1.0L + weight);
  return {1.0L / (x * x), -2.0L * dx / (x * x * x)};
}

Wide hermite(Wide reynolds, Wide relative) {
  const Turbulent end = colebrook_white(4000.0L, relative);
  const Wide width = 2000.0L, t = (reynolds - 2000.0L) / width;
  const Wide f0 = 64.0L / 2000.0L, d0 = -64.0L / (2000.0L * 2000.0L) * width;
  const Wide f1 = end.factor, d1 = end.slope * width;
  const Wide s = 1.0L - t;
  return f0 * (1 + 2 * t) * s * s + d0 * t * s * s + f1 * t * t * (3 - 2 * t) - d1 * t * t * s;
}

Wide darcy(const PlainPipe& pipe, Wide reynolds, Wide flow_m3s) {
  const Wide relative = pipe.roughness_m / pipe.bore_m;
  const Wide factor = reynolds <= 2000.0L  ? 64.0L / reynolds
                      : reynolds < 4000.0L ? hermite(reynolds, relative)
                                           : colebrook_white(reynolds, relative).factor;
  return factor / pipe.bore_m * pipe.velocity_head_s2m5() * flow_m3s * flow_m3s;
}

Wide hazen(const losses::FrictionLaw& law, const PlainPipe& pipe, Wide reynolds, Wide flow_m3s) {
  const Wide n = law.n;
  const auto power = [&](Wide q) {
    return law.k * std::pow(q, n) / (std::pow(pipe.hazen_c, n) * std::pow(pipe.bore_m, Wide(law.m)));
  };
  if (reynolds > 100.0L) return power(flow_m3s);
  // a r + b r^3 in r = Q / Q(Re 100), with a + b = 1 and a + 3 b = n.
  const Wide r = reynolds / 100.0L, b = (n - 1.0L) / 2.0L;
  return power(flow_m3s / r) * ((1.0L - b) * r + b * r * r * r);
}

}  // namespace

Wide PlainPipe::area_m2() const { return pi_wide * bore_m * bore_m / 4.0L; }

Wide PlainPipe::velocity_head_s2m5() const { return 1.0L / (2.0L * g_ms2 * area_m2() * area_m2()); }

Wide plain_friction(const losses::FrictionLaw& law, const PlainPipe& pipe, Wide viscosity_m2s,
                    Wide flow_m3s) {
  if (!(flow_m3s > 0.0L)) return 0.0L;
  const Wide reynolds = flow_m3s * pipe.bore_m / (pipe.area_m2() * viscosity_m2s);
  return law.law == losses::Law::darcy_weisbach ? darcy(pipe, reynolds, flow_m3s)
                                                : hazen(law, pipe, reynolds, flow_m3s);
}

Wide plain_change_k(Wide from_bore_m, Wide to_bore_m) {
  if (from_bore_m <= to_bore_m) {
    const Wide lost = 1.0L - (from_bore_m * from_bore_m) / (to_bore_m * to_bore_m);
    return lost * lost;
  }
  return 0.5L * (1.0L - (to_bore_m * to_bore_m) / (from_bore_m * from_bore_m));
}

}  // namespace runnel::steady
