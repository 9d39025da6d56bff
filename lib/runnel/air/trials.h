#pragma once
// Solves a system again with something changed, as often as a budget allows.
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "runnel/air/crests.h"
#include "runnel/network/change.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::air {

/// How a line runs, as far as it matters to a remedy.
struct Running {
  double flow_m3s = 0.0;              ///< on the line, either way
  std::optional<double> clearance_m;  ///< least pressure head over the place in question; none: no water
  double missing_m3s = 0.0;           ///< by how much all needs for a flow fall short, summed
};
Running running(const network::System& system, const steady::State& state, const std::string& line,
                network::Stretch over);

/// By how much the needs for a flow at tanks, outlets and joints fall short, summed [m3/s]. Tanks whose float
/// valve is shut are not counted, nor is less than a part in a million of a need.
double missing_m3s(const network::System& system, const steady::State& state);

/// Solves while the budget lasts. A solve costs more on a larger system, so the budget counts pipelines.
class Trials {
 public:
  explicit Trials(const network::System& system, std::size_t pipelines_solved)
      : system_(system), left_(pipelines_solved) {}

  const network::System& system() const { return system_; }
  /// None if the budget is spent or the solve did not settle.
  std::optional<steady::State> solve(const network::System& changed);
  /// A line of the system by name.
  int line(const std::string& name) const { return *system_.find_line(name); }
  /// The profile of a line, made once.
  const Profile& profile(int line);
  /// The part of a line between the low points (or the ends) on both sides of a station: what a trench
  /// through a crest there could touch.
  network::Stretch mound_around(int line, double station_m);
  bool spent() const { return spent_; }
  std::size_t solves() const { return solves_; }

 private:
  struct Shape {
    Profile profile;
    std::vector<Turn> turns;
  };
  const Shape& shape(int line);

  const network::System& system_;
  std::map<int, Shape> shapes_;
  std::size_t left_, solves_ = 0;
  bool spent_ = false;
};

}  // namespace runnel::air
