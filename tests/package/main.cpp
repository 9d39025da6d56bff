// Needs the units, the figures' text (fmt) and a document (yaml-cpp), so that a missing library shows;
// the headers of the answers must be installed too.
#include <cmath>
#include <iostream>

#include "runnel/document/tree.h"
#include "runnel/runnel.h"

int main() {
  using namespace runnel;
  const units::Parsed bore = units::parse("1-1/2 in", units::Dimension::length);
  const auto tree = document::read("runnel: 1\n", "model.yaml");
  if (!bore.ok() || !tree) return 1;
  std::cout << units::show({Kind::bore, bore.si}, units::UnitSystem::si) << '\n';
  return std::abs(bore.si - 0.0381) < 1e-15 ? 0 : 1;  // 1.5 * 0.0254 m, exact by definition of the inch
}
