#include "runnel/losses/area_change.h"

namespace runnel::losses {
namespace {

double area_ratio(double small_bore_m, double large_bore_m) {
  const double ratio = small_bore_m / large_bore_m;
  return ratio * ratio;
}

}  // namespace

double expansion_loss(double small_bore_m, double large_bore_m) {
  const double step = 1.0 - area_ratio(small_bore_m, large_bore_m);
  return step * step;
}

double contraction_loss(double small_bore_m, double large_bore_m) {
  return 0.5 * (1.0 - area_ratio(small_bore_m, large_bore_m));
}

double contraction_loss_measured(double small_bore_m, double large_bore_m) {
  // Area ratios 0.1, 0.2, ... 1.0; the last is no contraction at all. [streeter-wylie]
  static constexpr double cc[] = {0.624, 0.632, 0.643, 0.659, 0.681, 0.712, 0.755, 0.813, 0.892, 1.0};
  const double tenths = 10.0 * area_ratio(small_bore_m, large_bore_m);
  double narrowest = cc[0];
  for (int i = 1; i < 10 && tenths > i; ++i) {
    const double share = tenths < i + 1 ? tenths - i : 1.0;
    narrowest = cc[i - 1] + share * (cc[i] - cc[i - 1]);
  }
  const double step = 1.0 / narrowest - 1.0;
  return step * step;
}

double area_change_loss(double from_bore_m, double to_bore_m) {
  return from_bore_m < to_bore_m ? expansion_loss(from_bore_m, to_bore_m)
                                 : contraction_loss(to_bore_m, from_bore_m);
}

}  // namespace runnel::losses
