#include "runnel/filling/check.h"
namespace runnel::filling {
FillProof check(const network::System&, const FillOptions&, const FillHistory&) { return {}; }
}  // namespace runnel::filling
