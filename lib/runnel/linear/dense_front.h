#pragma once
// The dense part of a multifrontal factorisation, compiled for several vector widths; the widest that the
// machine has is chosen at run time. The operations and their order are the same at every width.

namespace runnel::linear {

/// Factorises the first `pivots` columns, `height` rows each, of a symmetric matrix (lower half, by columns)
/// and subtracts their contribution to the rest from `update`, a square of height - pivots rows, also lower
/// half by columns. Returns false if a pivot is not positive or not finite.
bool factorise_front(int height, int pivots, double* columns, double* update);

}  // namespace runnel::linear
