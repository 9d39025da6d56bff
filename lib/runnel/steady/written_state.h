#pragma once
// Turns a solved kernel into an answer about places and pipelines.
#include "runnel/network/system.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/kernel_state.h"
#include "runnel/steady/state.h"

namespace runnel::steady {

/// `solved`: the state of the assembly's kernel, heads above the system's own datum. For pipelines with a law
/// of their own (`put_column`) only the flow and the ends are right, since what their law does in between is
/// not known here. The proof is left to the caller.
State write_state(const network::System& system, const Assembly& assembly, const KernelState& solved,
                  bool depths = true);

/// The same with its proof.
State write_proved(const network::System& system, const Assembly& assembly, const KernelState& solved,
                   bool depths = true);

}  // namespace runnel::steady
