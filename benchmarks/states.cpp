// Lines with the air of their start in them. How long does the whole verdict take, and what share of it is
// air? Asked: all states of the village under 5 ms, a line with 20 pockets under 20 ms; a line of 300 high
// points, or of 10,000 surveyed stations with noise, under 2 s.
#include <cstdio>
#include <fstream>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "air/air_systems.h"
#include "runnel/input/read_model.h"
#include "runnel/verdict/flow_verdict.h"
#include "timing.h"

namespace {

using namespace runnel;

/// Down by `before_m`, then to a low and up to the next crest, again and again, then down to a free end.
network::System crests(int count, double rise_m, double fall_m, double before_m) {
  test::Survey survey = {{0.0, 1000.0}};
  const auto go = [&](double on_m, double up_m) {
    survey.emplace_back(survey.back().first + on_m, survey.back().second + up_m);
  };
  go(40.0, -before_m);
  for (int i = 0; i < count; ++i) go(20.0, -fall_m), go(20.0, rise_m);
  go(40.0, -20.0);
  return support::resolved(test::asking(test::crest_line(survey, 0.05, 1e-3), "trough", 3e-4));
}

/// An even fall as a survey of 2 m steps with noise sees it.
network::System noisy(int stations, double slope, double noise_m) {
  std::mt19937 dice(1);
  std::normal_distribution<double> noise(0.0, noise_m);
  test::Survey survey;
  for (int i = 0; i < stations; ++i) survey.emplace_back(2.0 * i, 500.0 - slope * 2.0 * i + noise(dice));
  return support::resolved(test::asking(test::crest_line(survey, 0.05, 1e-3), "trough", 3e-4));
}

network::System village() {
  std::ifstream file(std::string(RUNNEL_SOURCE_DIR) + "/models/village/model.yaml");
  std::stringstream text;
  text << file.rdbuf();
  return support::resolved(*input::read_model(text.str(), "model.yaml").value);
}

void time(const char* name, const network::System& system) {
  const steady::State state = steady::solve(system);
  const double steady_s = bench::median_seconds([&] { steady::solve(system); });
  const double states_s = bench::median_seconds([&] { air::at_first(system, air::ways_of(system, 400)); }, 1);
  const double all_s = bench::median_seconds([&] { verdict::judge_flow(system, state); }, 1);
  std::printf("%-44s %10.2f ms %10.2f ms %10.2f ms %8.1f\n", name, 1e3 * steady_s, 1e3 * states_s,
              1e3 * all_s, all_s / steady_s);
}

}  // namespace

int main() {
  std::printf("%-44s %13s %13s %13s %8s\n", "system", "without air", "its states", "verdict", "ratio");
  time("the village", village());
  time("20 pockets", crests(21, 0.3, 0.8, 10.0));
  time("20 pockets, blocked", crests(20, 1.0, 1.5, 0.1));
  time("300 high points", crests(300, 0.3, 0.8, 150.0));
  time("300 high points, blocked", crests(300, 2.0, 2.5, 0.1));
  time("10,000 stations, steep", noisy(10000, 0.01, 0.05));
  time("10,000 stations, gentle", noisy(10000, 0.005, 0.05));
}
