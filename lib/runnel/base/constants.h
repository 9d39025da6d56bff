#pragma once
// Constants of nature and of convention that all rooms share.

#ifdef __FAST_MATH__
#error "runnel must not be built with fast-math: a solve that went to NaN would pass its stopping test"
#endif

namespace runnel {

/// Standard acceleration of gravity [m/s2]; exact by definition (3rd CGPM 1901) [physics].
inline constexpr double gravity_ms2 = 9.80665;

inline constexpr double pi = 3.14159265358979323846;

}  // namespace runnel
