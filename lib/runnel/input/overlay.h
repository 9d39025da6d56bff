#pragma once
// One text laid over another: what a setting changes, written like the model itself.
#include <memory>

#include "runnel/document/tree.h"

namespace runnel::input {

/// `base` with the members of `change` laid over it, map by map. Anything else (a value, a list) is replaced
/// as a whole, and a member that `change` leaves empty is removed. Every piece keeps the mark of where it was
/// written.
std::unique_ptr<document::Node> laid_over(const document::Node& base, const document::Node& change);

/// The same node without the members named `key`.
std::unique_ptr<document::Node> without(const document::Node& node, std::string_view key);

}  // namespace runnel::input
