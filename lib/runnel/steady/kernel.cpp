#include "runnel/steady/kernel.h"

#include <cmath>

#include "runnel/base/constants.h"

namespace runnel::steady {

LinkMouth::LinkMouth(const losses::Mouth& mouth, double bore_m)
    : law(mouth),
      easy_m3s(0.25 * pi * bore_m * bore_m * std::sqrt(gravity_ms2 * bore_m)),  // well drowned
      easy_m(law.over_axis(easy_m3s).head_m) {}

bool Link::two_way_law(const Kernel& kernel) const {
  return forwards == 1 && backwards == 1 && forward_column < 0 && backward_column < 0 &&
         kernel.controls[forward].from_node && kernel.controls[forward].to_node;
}

int Kernel::add_pipe(int a, int b, const losses::PipeFriction& friction, double length_m, double loss_k) {
  Link link;
  link.a = a;
  link.b = b;
  link.term = static_cast<std::uint32_t>(terms.size());
  link.terms = 1;
  terms.push_back(friction);
  const auto lengths = static_cast<std::uint32_t>(lengths_m.size());
  lengths_m.push_back(length_m);
  Control control;
  control.lengths = lengths;
  control.quadratic_s2m5 = loss_k / (2.0 * gravity_ms2 * friction.area_m2() * friction.area_m2());
  link.forward = static_cast<std::uint32_t>(controls.size());
  link.forwards = 1;
  controls.push_back(control);
  link.backward = link.forward;  // the same stretch either way
  link.backwards = 1;
  link.start_m3s = 0.3 * friction.area_m2();
  links.push_back(link);
  return static_cast<int>(links.size()) - 1;
}

int Kernel::add_opening(int node, double elevation_m, double bore_m, double loss_k,
                        double kinematic_viscosity_m2s) {
  const double area_m2 = pi * bore_m * bore_m / 4.0;
  Link link;
  link.a = node;
  Control control;
  control.to_node = false;
  control.sink_head_m = elevation_m;
  control.quadratic_s2m5 = loss_k / (2.0 * gravity_ms2 * area_m2 * area_m2);
  control.lengths = static_cast<std::uint32_t>(lengths_m.size());
  link.forward = static_cast<std::uint32_t>(controls.size());
  link.forwards = 1;
  controls.push_back(control);
  link.start_m3s = 0.3 * area_m2;
  link.smooth_m3s = 0.1 * kinematic_viscosity_m2s * pi * bore_m / 4.0;  // Re = 0.1: linear below it
  links.push_back(link);
  return static_cast<int>(links.size()) - 1;
}

}  // namespace runnel::steady
