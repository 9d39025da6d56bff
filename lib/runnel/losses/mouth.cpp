#include "runnel/losses/mouth.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "runnel/base/constants.h"
#include "runnel/base/roots.h"
#include "runnel/losses/part_full.h"

namespace runnel::losses {
namespace {

// Table 9 of [hds-5], p. 193, and [culvert-polynomial]; in the order of MouthEdge. One printed list gives K
// 0.0078 for the groove in a wall, which is that of the metal pipe.
// clang-format off
constexpr MouthForm forms[] = {
    {"square", "cut square, in a wall",         .0098, 2.0,  .0398, .67, -0.5,
     {.087483, .706578, -.253295, .0667001, -.00661651, .000250619}},
    {"socket", "socket upstream, in a wall",    .0018, 2.0,  .0292, .74, -0.5,
     {.114099, .653562, -.233615, .0597723, -.00616338, .000242832}},
    {"socket projecting", "socket upstream, standing out", .0045, 2.0,  .0317, .69, -0.5,
     {.108786, .662381, -.233801, .0579585, -.0055789, .000205052}},
    {"metal", "thin metal, in a wall",         .0078, 2.0,  .0379, .69, -0.5,
     {.167433, .538595, -.149374, .0391543, -.00343974, .000115882}},
    {"mitred", "cut to the slope of a bank",    .0210, 1.33, .0463, .75, 0.7,
     {.107137, .757789, -.361462, .1233932, -.01606422, .00076739}},
    {"projecting", "thin wall, standing out",       .0340, 1.50, .0553, .54, -0.5,
     {.187321, .56771, -.156544, .0447052, -.00343602, 8.9661e-5}},
    {"bevelled 45", "bevelled 45 degrees",           .0018, 2.5,  .0300, .74, -0.5,
     {.063343, .766512, -.316097, .0876701, -.009836951, .00041676}},
    {"bevelled 33", "bevelled 33.7 degrees",         .0018, 2.5,  .0243, .83, -0.5,
     {.08173, .698353, -.253683, .065125, -.0071975, .000312451}}};
// clang-format on

constexpr double metric_factor = 1.811;  // Ku [hds-5]
constexpr double open_end_load = 1.93;   // Q / (A sqrt D) in SI: 3.5 and 4.0 in feet [hds-5]
constexpr double drowned_start_load = 2.21;
constexpr double film_depth_ratio = 0.01;     // [own]
constexpr double full_share_ratio = 0.25;     // least energy in bores from which all of Ks S counts [own]
constexpr double most_relieving_slope = 0.1;  // [own]

/// A critical flow at a depth, and its depth plus velocity head.
struct Critical {
  double flow_m3s, energy_m;
};
Critical critical_of(const Segment& wet, double depth_m) {
  const double mean_depth_m = wet.area_m2 / wet.top_width_m;
  return {wet.area_m2 * std::sqrt(gravity_ms2 * mean_depth_m), depth_m + 0.5 * mean_depth_m};
}

double counted_slope(const MouthForm& form, double slope) {
  const double falling = std::max(slope, 0.0);
  return form.slope_factor < 0.0 ? std::min(falling, most_relieving_slope) : falling;
}

}  // namespace

const MouthForm& mouth_form(MouthEdge edge) { return forms[static_cast<int>(edge)]; }

std::vector<std::string> mouth_words() {
  std::vector<std::string> words;
  for (const MouthForm& form : forms) words.emplace_back(form.word);
  return words;
}

std::optional<MouthEdge> find_mouth(std::string_view word) {
  const auto* const found = std::find_if(std::begin(forms), std::end(forms),
                                         [&](const MouthForm& form) { return form.word == word; });
  if (found == std::end(forms)) return std::nullopt;
  return static_cast<MouthEdge>(found - std::begin(forms));
}

double mouth_load(double bore_m, double flow_m3s) {
  return metric_factor * flow_m3s / (0.25 * pi * bore_m * bore_m * std::sqrt(bore_m));
}

double open_mouth_ratio(const MouthForm& form, double least_energy_ratio, double load) {
  return least_energy_ratio + form.k * std::pow(load, form.m);
}

double drowned_mouth_ratio(const MouthForm& form, double load) { return form.c * load * load + form.y; }

double mouth_ratio_by_polynomial(MouthEdge edge, double bore_m, double slope, double flow_m3s) {
  const MouthForm& form = mouth_form(edge);
  const double f = 1.8113 * flow_m3s / (bore_m * bore_m * std::sqrt(bore_m));
  double sum = 0.0;
  for (int i = 5; i >= 0; --i) sum = sum * f + form.polynomial[static_cast<std::size_t>(i)];
  return sum + form.slope_factor * slope;
}

/// What the open form gives for a critical depth at the mouth; nothing has to be solved for.
struct Mouth::Open {
  double flow_m3s, head_m, slope_sm2;
};

Mouth::Mouth(MouthEdge edge, double bore_m, double slope)
    : form_(mouth_form(edge)),
      bore_m_(bore_m),
      slope_share_(form_.slope_factor * counted_slope(form_, slope)),
      load_per_flow_(mouth_load(bore_m, 1.0)),
      open_flow_m3s_(metric_factor * open_end_load / load_per_flow_),
      drowned_flow_m3s_(metric_factor * drowned_start_load / load_per_flow_) {
  const Open film = open_at(film_depth_ratio * bore_m);
  film_flow_m3s_ = film.flow_m3s;
  film_head_m_ = film.head_m;
  // The same in every bore, because the critical depth in bores depends only on Q / (A sqrt D).
  static const double open_depth_ratio =
      critical_depth(1.0, metric_factor * open_end_load / mouth_load(1.0, 1.0));
  open_depth_m_ = open_depth_ratio * bore_m;
  open_head_m_ = open_at(open_depth_m_).head_m;
  drowned_head_m_ = drowned(drowned_flow_m3s_).head_m;
}

Mouth::Open Mouth::open_at(double critical_depth_m) const {
  const Segment wet = wetted_segment(bore_m_, critical_depth_m);
  const Critical at = critical_of(wet, critical_depth_m);
  // At the depth of least energy only the flow itself changes the energy: dE/dQ = Q / (g A^2).
  const double energy_slope = at.flow_m3s / (gravity_ms2 * wet.area_m2 * wet.area_m2);
  const double entry = open_mouth_ratio(form_, 0.0, load_per_flow_ * at.flow_m3s);
  const double share = std::min(1.0, at.energy_m / (full_share_ratio * bore_m_));
  Open open{at.flow_m3s, at.energy_m + bore_m_ * (entry + slope_share_ * share), 0.0};
  open.slope_sm2 = energy_slope + bore_m_ * form_.m * entry / at.flow_m3s;
  if (share < 1.0) open.slope_sm2 += slope_share_ / full_share_ratio * energy_slope;
  return open;
}

HeadAndSlope Mouth::open(double flow_m3s) const {
  const Open at = open_at(critical_depth(bore_m_, flow_m3s));
  return {at.head_m, at.slope_sm2};
}

HeadAndSlope Mouth::drowned(double flow_m3s) const {
  const double load = load_per_flow_ * flow_m3s;
  return {bore_m_ * (drowned_mouth_ratio(form_, load) + slope_share_),
          2.0 * bore_m_ * form_.c * load * load_per_flow_};
}

HeadAndSlope Mouth::over_invert(double flow_m3s) const {
  const double size_m3s = std::fabs(flow_m3s);
  HeadAndSlope needed;
  if (size_m3s <= film_flow_m3s_) {
    const double slope = film_head_m_ / film_flow_m3s_;
    return {slope * flow_m3s, slope};
  }
  if (size_m3s <= open_flow_m3s_) {
    needed = open(size_m3s);
  } else if (size_m3s < drowned_flow_m3s_) {
    const double slope = (drowned_head_m_ - open_head_m_) / (drowned_flow_m3s_ - open_flow_m3s_);
    needed = {open_head_m_ + slope * (size_m3s - open_flow_m3s_), slope};
  } else {
    needed = drowned(size_m3s);
  }
  needed.head_m = std::copysign(needed.head_m, flow_m3s);
  return needed;
}

HeadAndSlope Mouth::over_axis(double flow_m3s) const {
  HeadAndSlope needed = over_invert(flow_m3s);
  needed.head_m -= 0.5 * bore_m_;
  return needed;
}

FlowAndSlope Mouth::flow_at(double depth_over_invert_m) const {
  if (!(depth_over_invert_m > 0.0)) return {};
  double flow_m3s = 0.0;
  if (depth_over_invert_m <= film_head_m_) {
    flow_m3s = depth_over_invert_m / film_head_m_ * film_flow_m3s_;
  } else if (depth_over_invert_m < open_head_m_) {
    const double critical_m =
        bracketed_root([&](double depth) { return open_at(depth).head_m - depth_over_invert_m; },
                       film_depth_ratio * bore_m_, open_depth_m_);
    flow_m3s = open_at(critical_m).flow_m3s;
  } else if (depth_over_invert_m < drowned_head_m_) {
    const double share = (depth_over_invert_m - open_head_m_) / (drowned_head_m_ - open_head_m_);
    flow_m3s = open_flow_m3s_ + share * (drowned_flow_m3s_ - open_flow_m3s_);
  } else {
    const double load_squared = (depth_over_invert_m / bore_m_ - form_.y - slope_share_) / form_.c;
    flow_m3s = std::sqrt(load_squared) / load_per_flow_;
  }
  return {flow_m3s, 1.0 / over_invert(flow_m3s).slope_sm2};
}

MouthRegime Mouth::regime(double flow_m3s) const {
  const double size_m3s = std::fabs(flow_m3s);
  if (size_m3s <= open_flow_m3s_) return MouthRegime::open;
  return size_m3s < drowned_flow_m3s_ ? MouthRegime::between : MouthRegime::drowned;
}

}  // namespace runnel::losses
