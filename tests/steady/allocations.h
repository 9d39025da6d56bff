#pragma once
// How many times this program has asked for memory: counted in kernel_solver_test.cpp.

namespace runnel::test {

extern long allocations;

}  // namespace runnel::test
