#pragma once
// One kernel solved once. Whoever solves the same kernel again and again keeps a KernelSolver
// (steady/kernel_solver.h).
#include "runnel/steady/kernel_state.h"

namespace runnel::steady {

KernelState solve(const Kernel& kernel, const NewtonOptions& options = {});

}  // namespace runnel::steady
