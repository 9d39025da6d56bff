#pragma once
// What a system must satisfy before anything is computed on it: names that resolve, geometry that can
// be built, figures that can be meant. Findings are about the model, in words its writer can act on.
#include <functional>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"

namespace runnel::network {

/// What a caller that read the system from a text knows, so that findings point at the very word. A
/// system made by hand needs none of it.
struct Origin {
  /// Where a member of the thing at `object` was written, say "float_valve.shuts_at"; the mark of the
  /// thing itself where that is not known.
  std::function<Mark(const Mark& object, std::string_view member)> member;
  /// True if the thing at `object` could not be read in full: its figures are then not judged.
  std::function<bool(const Mark& object)> incomplete;
};

/// What the members of the system itself (site, friction) are filed under, as a model has no mark.
const Mark& system_mark();

/// A pipe's own open end costs the jet of its bore: an opening wider than that cannot cost less. Of an outlet
/// at the end of a line.
bool wider_than_pipe(const Outlet& outlet, const Pipeline& line);

/// Everything that is wrong with a system (errors) or looks wrong (warnings). No error means that the
/// solvers may be called. Never throws.
std::vector<Finding> validate(const Model& system, const Origin& origin = {});

}  // namespace runnel::network
