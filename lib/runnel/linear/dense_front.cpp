#include "runnel/linear/dense_front.h"

#include <cmath>
#include <cstddef>

#if defined(__x86_64__)
#define RUNNEL_FOR(name) __attribute__((target(name)))
#ifdef __clang__
#define RUNNEL_512 "avx512f,avx512vl"
#else
#define RUNNEL_512 "avx512f,avx512vl,prefer-vector-width=512"
#endif
#endif
#define RUNNEL_INLINE __attribute__((always_inline)) inline

namespace runnel::linear {
namespace {

/// to[i] -= x0[i] f0 + x1[i] f1 + ...: four columns at a time, so that `to` is loaded and stored less often.
RUNNEL_INLINE void subtract(std::ptrdiff_t count, std::ptrdiff_t columns, const double* __restrict from,
                            std::ptrdiff_t stride, double* __restrict to) {
  std::ptrdiff_t k = 0;
  for (; k + 4 <= columns; k += 4, from += 4 * stride) {
    const double* __restrict x0 = from, * __restrict x1 = from + stride, * __restrict x2 = x1 + stride, * __restrict x3 = x2 + stride;
    const double f0 = x0[0], f1 = x1[0], f2 = x2[0], f3 = x3[0];
    for (std::ptrdiff_t i = 0; i < count; ++i) to[i] -= (x0[i] * f0 + x1[i] * f1) + (x2[i] * f2 + x3[i] * f3);
  }
  for (; k < columns; ++k, from += stride) {
    const double f = from[0];
    for (std::ptrdiff_t i = 0; i < count; ++i) to[i] -= from[i] * f;
  }
}

RUNNEL_INLINE bool body(std::ptrdiff_t height, std::ptrdiff_t pivots, double* columns, double* update) {
  for (std::ptrdiff_t k = 0; k < pivots; ++k) {  // earlier columns are subtracted, then the column is scaled
    double* column = columns + k * height + k;
    subtract(height - k, k, columns + k, height, column);
    if (!(column[0] > 0.0) || !std::isfinite(column[0])) return false;
    const double root = std::sqrt(column[0]), scale = 1.0 / root;
    column[0] = root;
    for (std::ptrdiff_t i = 1; i < height - k; ++i) column[i] *= scale;
  }
  const std::ptrdiff_t below = height - pivots;
  for (std::ptrdiff_t j = 0; j < below; ++j)
    subtract(below - j, pivots, columns + pivots + j, height, update + j * below + j);
  return true;
}

#ifdef RUNNEL_FOR
RUNNEL_FOR(RUNNEL_512) bool front_512(int h, int p, double* c, double* u) {
  return body(h, p, c, u);
}
RUNNEL_FOR("avx2") bool front_256(int h, int p, double* c, double* u) { return body(h, p, c, u); }
#endif
bool front_128(int h, int p, double* c, double* u) { return body(h, p, c, u); }

using Front = bool (*)(int, int, double*, double*);

Front widest() {
#ifdef RUNNEL_FOR
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512vl")) return front_512;
  if (__builtin_cpu_supports("avx2")) return front_256;
#endif
  return front_128;
}

}  // namespace

bool factorise_front(int height, int pivots, double* columns, double* update) {
  static const Front front = widest();
  return front(height, pivots, columns, update);
}

}  // namespace runnel::linear
