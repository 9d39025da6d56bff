#include "runnel/works/sanitary.h"

#include <array>

namespace runnel::works {

namespace {

constexpr PublishedDistance feet(Keeps what, double feet, std::string_view source) {
  return {what, Length::feet(feet), Length::feet(feet), source};
}

constexpr PublishedDistance metres(Keeps what, double least, double better, std::string_view source) {
  return {what, Length::metres(least), Length::metres(better), source};
}

}  // namespace

std::span<const PublishedDistance> published_distances() {
  // [wisconsin-nr-812], [ohio-3701-28-13], [utah-r309-600], [uk-dwi-springs], [green-roads-water],
  // [nzdl-handbook]. The inspectorate says "up to 50 m" for stock: the whole of it is taken.
  static constexpr std::array distances = {
      feet(Keeps::clear_uphill, 200, "wisconsin-nr-812"),
      feet(Keeps::clear_uphill, 200, "ohio-3701-28-13"),
      feet(Keeps::clear_sideways, 100, "wisconsin-nr-812"),
      feet(Keeps::clear_downhill, 50, "wisconsin-nr-812"),
      feet(Keeps::clear_downhill, 50, "ohio-3701-28-13"),
      feet(Keeps::ditch_outfall, 25, "ohio-3701-28-13"),
      feet(Keeps::sewer, 50, "utah-r309-600"),
      feet(Keeps::sewer_protected, 10, "utah-r309-600"),
      metres(Keeps::manure, 50, 50, "uk-dwi-springs"),
      metres(Keeps::stock, 50, 50, "uk-dwi-springs"),
      metres(Keeps::latrine, 30, 30, "green-roads-water"),
      metres(Keeps::fence_radius, 10, 20, "green-roads-water"),
      metres(Keeps::privy_uphill, 50, 100, "nzdl-handbook"),
  };
  return distances;
}

std::vector<DistanceJudgement> judge_distance(Keeps what, std::optional<Length> distance) {
  std::vector<DistanceJudgement> all;
  for (const PublishedDistance& published : published_distances()) {
    if (published.what != what) continue;
    Verdict verdict = Verdict::cannot_be_judged;
    if (distance)
      verdict = *distance >= published.better ? Verdict::holds
                : *distance < published.least ? Verdict::fails
                                              : Verdict::undecided;
    all.push_back({verdict, published});
  }
  return all;
}

}  // namespace runnel::works
