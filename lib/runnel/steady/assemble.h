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
  /// For levels that change: no float valve shuts by the level it starts from, and no line leaves a tank
  /// below its floor.
  bool for_filling = false;
  /// For lines that change (steady/solver.h): each gets as many controls as any bores, elevations and losses
  /// on it could ask for; those not wanted now are idle (KernelSolver::idle) and stand last of their
  /// direction.
  bool room_for_changes = false;
};

Assembly assemble(const network::System& system, AssemblyOptions options = {});

/// Puts a law in the place of a pipeline's full pipe, for one direction of flow. Its crests, mouth and
/// reducing valves still hold the flow back as they did.
void put_column(Assembly& assembly, std::size_t line, bool forward, std::shared_ptr<const ColumnLaw> law);
/// The same for the stretch from the reducing valve at a station to the end, with the head the valve holds as
/// its source. Precondition: the line has a reducing valve there. One line after another.
void put_behind_valve(Assembly& assembly, std::size_t line, double station_m,
                      std::shared_ptr<const ColumnLaw> law);
/// The same with no line but this one, and no opening; places and their nodes are all there.
Assembly assemble_line(const network::System& system, int line, AssemblyOptions options = {});

}  // namespace runnel::steady
