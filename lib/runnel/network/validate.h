#pragma once
// What a model must satisfy before anything is computed on it: names that resolve, geometry that can be
// built, figures that can be meant. Findings are about the model, in words its writer can act on.
#include <functional>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"

namespace runnel::network {

/// What a caller that read the model from a text knows, so that findings point at the very word. A model made
/// by hand needs none of it.
struct Origin {
  /// Where a member of the object marked `object` was written, such as "float_valve.shuts_at"; the mark of
  /// the object itself if that is unknown.
  std::function<Mark(const Mark& object, std::string_view member)> member;
  /// True if the object could not be read in full: its figures are then not judged.
  std::function<bool(const Mark& object)> incomplete;
};

/// The mark under which the members of the model itself (site, friction) are filed, because it has none.
const Mark& system_mark();

/// Whether an outlet has an opening wider than the pipe that ends there: that cannot lose less than the
/// open end of the pipe, which loses the velocity head of a jet of its bore.
bool wider_than_pipe(const Outlet& outlet, const pipes::Pipe& pipe);

/// Everything that is wrong with a model (errors) or looks wrong (warnings). Without an error it can be
/// resolved and solved. Never throws.
std::vector<Finding> validate(const Model& system, const Origin& origin = {});

}  // namespace runnel::network
