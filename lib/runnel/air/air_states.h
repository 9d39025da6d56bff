#pragma once
// One system with whatever is left of its start-up air, solved again and again, and each state proved.
#include <map>
#include <memory>
#include <set>
#include <vector>

#include "runnel/air/at_first.h"
#include "runnel/air/held_air.h"
#include "runnel/air/sweep.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/kernel_state.h"
#include "runnel/steady/pocket_law.h"

namespace runnel::air {

/// Numbers of bodies of air (HeldAir::body).
using Bodies = std::set<int>;

class AirStates {
 public:
  /// The system must outlive this.
  AirStates(const network::System& system, std::vector<HeldAir> held);

  const std::vector<HeldAir>& held() const { return held_; }
  /// Pipelines where a reducing valve stands within a body of air or just where it begins. What such a valve
  /// does is not known.
  const std::vector<std::size_t>& not_followed() const { return not_followed_; }

  /// The whole state without the bodies that are gone.
  AirState solve(const Bodies& gone, steady::Compression compression) const;

  /// All bodies that are gone once the current has carried off what a law says it can, `gone` being gone
  /// already. Ends early if no state was found, as `solve` will then say.
  Bodies carried_off(ClearingLaw law, Bodies gone);

  /// Whether no leg that holds air is too steep or too flat for the law.
  bool in_range(ClearingLaw law) const;

 private:
  /// A pipeline in one direction with the air held in it.
  struct Column {
    std::size_t line = 0;
    bool forward = true;
    steady::PocketCourse course;                    ///< with every pocket
    std::vector<std::size_t> held;                  ///< indices into the held air, one a pocket of the course
    std::vector<std::vector<double>> carrying_m3s;  ///< by pocket and law: greater flows carry it off
  };
  struct Solved {
    steady::Assembly assembly;
    std::vector<std::shared_ptr<const steady::PocketLaw>> laws;  ///< one a column
    steady::KernelState kernel;
    bool settled = false;
  };

  void add(std::size_t held);
  bool about_valve(const HeldAir& air) const;
  steady::Link link_of(std::size_t line) const;
  steady::PocketCourse course(std::size_t line, bool forward) const;
  steady::PocketCourse left(const Column& column, const Bodies& gone) const;
  Solved find(const Bodies& gone, steady::Compression compression) const;
  void put_laws(const Column& column, const std::shared_ptr<const steady::PocketLaw>& law,
                steady::Compression compression, steady::Assembly& assembly) const;
  std::vector<double> line_flows(const Solved& solved) const;
  const std::vector<double>& flows_without(const Bodies& gone);
  Bodies carried(std::size_t law, const std::vector<double>& flow_m3s, const Bodies& gone) const;
  void write_runs(const Solved& solved, AirState& state) const;
  void write_air(const Column& column, const steady::PocketLaw& law, const Bodies& gone,
                 AirState& state) const;

  const network::System& system_;
  std::vector<HeldAir> held_;
  steady::Assembly assembly_;
  std::vector<Column> columns_;
  std::vector<std::size_t> not_followed_;
  std::map<Bodies, std::vector<double>> known_m3s_;  ///< flows by bodies gone; empty if no state was found
};

}  // namespace runnel::air
