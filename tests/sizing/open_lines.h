#pragma once
// Models with lines left to choice from a short series of pipe, and the slow way to their cheapest choice.
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "runnel/sizing/size.h"
#include "steady/small_systems.h"

namespace open_lines {

using namespace runnel;
using network::Model;

/// Bores and what a metre of each costs.
struct Series {
  std::vector<double> bores_m, prices_per_m;
};

/// All of a series; its prices are written into the model once.
inline network::PipeChoice all_sizes(Model& model, const Series& series) {
  network::PipeChoice choice;
  for (std::size_t k = 0; k < series.bores_m.size(); ++k) {
    pipes::Pipe pipe = small::pipe(series.bores_m[k]);
    pipe.name = "size " + std::to_string(k);
    pipe.rating = Pressure::from_si(16e5);  // of an unknown one nobody could say whether it bursts
    choice.among.push_back(pipe);
    if (model.prices.size() < series.bores_m.size())
      model.prices.push_back({pipe.name, series.prices_per_m[k], true, {}});
  }
  return choice;
}

inline void ask(Model& model, const std::string& at, double flow_m3s) {
  network::Ask ask;
  ask.at = at;
  ask.flow = Flow::from_si(flow_m3s);
  model.asks.push_back(ask);
}

/// Of the lines left to choice.
inline double cost_of(const Model& model, const sizing::Sizes& sizes, const Series& series) {
  double cost = 0.0;
  for (std::size_t l = 0; l < sizes.size(); ++l) {
    if (!model.pipelines[l].choice) continue;
    const auto& survey = model.pipelines[l].survey;
    for (std::size_t i = 1; i < survey.size(); ++i) {
      const double run = (survey[i].station - survey[i - 1].station).metres();
      const double fall = (survey[i].elevation - survey[i - 1].elevation).metres();
      cost += series.prices_per_m[static_cast<std::size_t>(sizes[l])] * std::hypot(run, fall);
    }
  }
  return cost;
}

/// The cheapest of all choices that pass the full trial.
inline double cheapest_of_all(const Model& model, const Series& series) {
  const int count = static_cast<int>(series.bores_m.size());
  double best = std::numeric_limits<double>::infinity();
  sizing::Sizes sizes(model.pipelines.size(), 0);
  while (true) {
    const double cost = cost_of(model, sizes, series);
    if (cost < best && sizing::try_out(sizing::laid(model, sizes)).good) best = cost;
    std::size_t l = 0;
    while (l < sizes.size() && (!model.pipelines[l].choice || ++sizes[l] == count)) sizes[l++] = 0;
    if (l == sizes.size()) return best;
  }
}

inline sizing::SizeAnswer answer_of(const Model& model) {
  auto answer = sizing::size(model);
  for (const auto& finding : answer.findings) UNSCOPED_INFO(finding.code << ": " << finding.message);
  REQUIRE(answer);
  return std::move(*answer.value);
}

inline const Series five_sizes{{0.016, 0.0204, 0.0262, 0.0326, 0.0408}, {0.6, 0.9, 1.35, 2.1, 3.2}};

/// A spring, a tee, and two taps, the lower of which would take all the water.
inline Model two_taps(double upper_m = 80.0) {
  Model model = small::empty();
  small::box(model, "spring", 1e-3, 100.0, 100.5);
  small::joint(model, "tee", 85.0);
  small::outlet(model, "upper tap", upper_m, 0.015, 4.0);
  small::outlet(model, "lower tap", 60.0, 0.015, 4.0);
  small::line(model, "main", "spring", "tee", 0.0326, {{0.0, 100.0}, {300.0, 85.0}});
  small::line(model, "upper", "tee", "upper tap", 0.0262, {{0.0, 85.0}, {120.0, upper_m}});
  small::line(model, "lower", "tee", "lower tap", 0.0262, {{0.0, 85.0}, {200.0, 60.0}});
  for (auto& line : model.pipelines) line.choice = all_sizes(model, five_sizes);
  ask(model, "upper tap", 2e-4);
  ask(model, "lower tap", 3e-4);
  return model;
}

}  // namespace open_lines
