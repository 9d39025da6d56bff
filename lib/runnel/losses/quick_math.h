#pragma once
// Logarithm and power of several numbers at a time: no calls, no branches, no tables. For positive normal
// numbers only. Within about 4e-16 relative (power) and 2e-16 of max(1, |log|) (logarithm); tested against
// long double. Series of atanh and exp, nothing fitted. [own]
//
// `V` is a vector of doubles and `I` one of as many 64-bit integers, in the sense of g++ and clang++
// (`vector_size`); arguments go by reference because how wide values are passed depends on the machine.
#include <bit>
#include <cstdint>

#define RUNNEL_INLINE __attribute__((always_inline)) inline

namespace runnel::losses {

inline constexpr double two_to_52 = 4503599627370496.0;

/// A number without all but the first 28 bits of its mantissa: the `p_high` of `Wide::pow`.
constexpr double first_bits(double x) {
  return std::bit_cast<double>(std::bit_cast<std::uint64_t>(x) & 0xFFFFFFFFFF000000u);
}

template <int bytes>
struct Wide {
  typedef double V __attribute__((vector_size(bytes)));
  typedef std::uint64_t I __attribute__((vector_size(bytes)));

  /// x = mantissa * 2^exponent with the mantissa in [sqrt(1/2), sqrt(2)).
  RUNNEL_INLINE static void split(const V& x, V& mantissa, V& exponent) {
    constexpr std::uint64_t root_half = 0x3FE6A09E667F3BCDu, field = 0xFFF0000000000000u,
                            lift = 1024ull << 52;
    const I bits = (I)x, shifted = bits - root_half + lift;
    // An integer below 2^52 becomes a double by writing it into the mantissa of 2^52.
    exponent = (V)((shifted >> 52) | 0x4330000000000000u) - (two_to_52 + 1024.0);
    mantissa = (V)(bits - ((shifted & field) - lift));
  }

  /// ln of a mantissa as `split` gives it: 2 atanh(s), s = (m - 1) / (m + 1), |s| < 0.172.
  RUNNEL_INLINE static void log_mantissa(const V& m, V& log) {
    const V s = (m - 1.0) / (m + 1.0), z = s * s, z2 = z * z, z4 = z2 * z2;
    const V low = (1.0 / 3 + z * (1.0 / 5)) + z2 * (1.0 / 7 + z * (1.0 / 9));
    const V high =
        (1.0 / 11 + z * (1.0 / 13)) + z2 * (1.0 / 15 + z * (1.0 / 17)) + z4 * (1.0 / 19 + z * (1.0 / 21));
    log = 2.0 * s + 2.0 * s * z * (low + z4 * high);
  }

  RUNNEL_INLINE static void log(const V& x, V& result) {
    constexpr double ln2 = 0.69314718055994530942;
    V m, e;
    split(x, m, e);
    log_mantissa(m, result);
    result = e * ln2 + result;
  }

  /// rough_log of friction_factor.h.
  RUNNEL_INLINE static void rough_log(const V& x, V& result) {
    constexpr double ln2 = 0.69314718055994530942;
    const I bits = (I)x;
    const V exponent = (V)((bits >> 52) | 0x4330000000000000u) - (two_to_52 + 1023.0);
    const V u = (V)((bits & 0x000FFFFFFFFFFFFFu) | 0x3FF0000000000000u) - 1.0;
    result = ln2 * exponent +
             (6.07140953e-05 + u * (0.996540742 + u * (-0.467834762 + u * (0.22089154 - u * 0.0565717675))));
  }

  /// x^p for |p log2 x| < 1000. The exponent of x is multiplied by p in two parts, the first without
  /// rounding, so that large and small x lose no digits.
  RUNNEL_INLINE static void pow(const V& x, double p, double p_high, V& result) {
    constexpr double ln2 = 0.69314718055994530942, round = 6755399441055744.0;  // 1.5 * 2^52
    V m, e, rest;
    split(x, m, e);
    log_mantissa(m, rest);
    rest = p * rest;
    const V whole = p_high * e;
    const V rounded = (whole + rest * (1.0 / ln2)) + round, k = rounded - round;
    const V y = ((whole - k) + (p - p_high) * e) * ln2 + rest;  // |y| < 0.35
    const V y2 = y * y, y4 = y2 * y2;
    const V low = (1.0 / 2 + y * (1.0 / 6)) + y2 * (1.0 / 24 + y * (1.0 / 120));
    const V middle = (1.0 / 720 + y * (1.0 / 5040)) + y2 * (1.0 / 40320 + y * (1.0 / 362880));
    const V high = (1.0 / 3628800 + y * (1.0 / 39916800)) + y2 * (1.0 / 479001600 + y * (1.0 / 6227020800.0));
    const V exp_y = 1.0 + (y + y2 * (low + y4 * (middle + y4 * high)));
    result = exp_y * (V)(((I)rounded << 52) + 0x3FF0000000000000u);
  }
};

}  // namespace runnel::losses
