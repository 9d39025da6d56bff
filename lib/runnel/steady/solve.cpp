#include "runnel/steady/datum.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/written_state.h"

namespace runnel::steady {

/// Gives the same answer as Solver(system).answer(), without leaving room for changes.
State solve(const network::System& system, const Options& options) {
  const Assembly assembly = assemble(system, {.floors = options.floors});
  const double datum_m = local_datum_m(assembly.kernel);
  KernelState solved = solve(above(assembly.kernel, datum_m), {.max_iterations = options.max_iterations});
  raise_heads(solved, datum_m);
  return write_proved(system, assembly, solved, options.depths);
}

}  // namespace runnel::steady
