#pragma once
// The nasty systems stretched as far as anybody could build them: bores from 5 to 500 mm, lines from 0.1 m to
// 50 km, springs from 1e-6 L/s. Conductances in one system lie up to fifteen powers of ten apart.
#include <algorithm>
#include <cmath>

#include "steady/nasty_system.h"

namespace runnel::test {

inline network::Model wide_system(std::uint64_t seed, const NastyKind& kind) {
  network::Model model = NastySystem(seed, kind).system;
  plain::Dice dice(seed * 7919 + 1);
  const auto power = [&](double low, double high) { return std::pow(10.0, dice.real(low, high)); };
  for (network::Pipeline& line : model.pipelines) {
    const double stretch = power(-1.0, 4.7) / line.survey.back().station.metres();  // 0.1 m to 50 km
    for (auto& point : line.survey) point.station = point.station * stretch;
    for (auto& part : line.parts) part.at = part.at * stretch;
    for (auto& pipe : line.pipes) {
      pipe.pipe.bore = Length::metres(power(std::log10(0.005), std::log10(0.5)));
      pipe.from = pipe.from * stretch;
    }
  }
  for (network::Box& box : model.boxes)
    if (box.yield.si() > 0.0) box.yield = Flow::from_si(power(-9.0, -2.0));
  for (network::Outlet& outlet : model.outlets)  // one wider than the pipe it ends is refused
    for (const network::Pipeline& line : model.pipelines)
      if (line.to == outlet.name) outlet.opening = std::min(outlet.opening, line.pipes.back().pipe.bore);
  return model;
}

}  // namespace runnel::test
