#pragma once
// The dense work of a multifrontal factorisation, compiled for every vector width of the machine and chosen
// when the program runs. The operations and their order are the same at every width.

namespace runnel::linear {

/// Factorises the first `pivots` columns, `height` rows each, of a symmetric matrix (lower half, by columns),
/// and takes what they do to the rest from `update`, (height - pivots) squared, lower half, by columns. False
/// if a pivot is not positive or not finite.
bool factorise_front(int height, int pivots, double* columns, double* update);

}  // namespace runnel::linear
