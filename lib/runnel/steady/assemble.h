#pragma once
// From a system in words to a kernel in numbers.
#include <array>
#include <memory>
#include <vector>

#include "runnel/steady/kernel.h"
#include "runnel/steady/line_plan.h"

namespace runnel::steady {

struct Assembly {
  Kernel kernel;
  std::vector<LinePlan> plans;   ///< one a pipeline
  std::vector<int> line_link;    ///< pipeline -> link
  std::vector<int> outlet_link;  ///< the link whose flow comes out of it
  double kinematic_viscosity_m2s = 0.0;
  std::array<std::vector<int>, network::place_kinds> kind_nodes;

  /// Nodes of the places of one kind; -1: an outlet that is the end of its one pipeline or hangs on a joint.
  const std::vector<int>& nodes_of(network::PlaceKind kind) const {
    return kind_nodes[static_cast<std::size_t>(kind)];
  }
};

struct AssemblyOptions {
  bool floors = true;  ///< false: lines run full whatever the grade line does, and draws are always met
  /// For levels that change: no float valve is shut because of the level a run begins with, and no line
  /// leaves a tank below its floor.
  bool for_filling = false;
  /// For lines that change (steady/solver.h): each gets as many controls as any bores, elevations and losses
  /// on it could need; those not needed now are idle (KernelSolver::idle) and come last in their direction.
  bool room_for_changes = false;
};

Assembly assemble(const network::System& system, AssemblyOptions options = {});

/// Sets how far a tap is open on the link whose flow comes out of it.
void set_tap(const network::System& system, int outlet, Link& opening);

/// Replaces the full-pipe law of a pipeline by another, for one direction of flow. Its crests, mouth and
/// reducing valves limit the flow as before.
void put_column(Assembly& assembly, std::size_t line, bool forward, std::shared_ptr<const ColumnLaw> law);
/// The same for the stretch from the reducing valve at a station to the end, with the head the valve holds as
/// its source. Preconditions: the line has a reducing valve there, and all the laws of one line are put
/// before those of the next.
void put_behind_valve(Assembly& assembly, std::size_t line, double station_m,
                      std::shared_ptr<const ColumnLaw> law);
/// Assembles all places and their nodes, but only this line and no openings.
Assembly assemble_line(const network::System& system, int line, AssemblyOptions options = {});

}  // namespace runnel::steady
