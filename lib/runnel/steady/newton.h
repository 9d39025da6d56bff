#pragma once
// Solves one kernel once. To solve the same kernel again and again, keep a KernelSolver
// (steady/kernel_solver.h).
#include "runnel/steady/kernel_state.h"

namespace runnel::steady {

KernelState solve(const Kernel& kernel, const NewtonOptions& options = {});

}  // namespace runnel::steady
