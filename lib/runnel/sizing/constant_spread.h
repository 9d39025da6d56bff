#pragma once
// Whether a design hangs on the constant of the friction formula: books print the k of Hazen-Williams, which
// is 10.67 in most, from 10.5088 to 10.9031 [savic-walters1997], and a margin of head thinner than what lies
// between them says nothing about water.
#include <optional>
#include <string>

#include "runnel/network/model.h"

namespace runnel::sizing {

inline constexpr double least_printed_k = 10.5088, greatest_printed_k = 10.9031;

struct HangsOnConstant {
  std::string place;      ///< the first that would have too little
  double margin_m = 0.0;  ///< with the model's own k
  double turns_at_k = 0.0;
};

/// Of a laid model that does by flows and heads, its taps as wide open as they go; nothing if it does with
/// every printed k, if it asks for nothing, or if its law is another.
std::optional<HangsOnConstant> hangs_on_constant(const network::Model& model);

}  // namespace runnel::sizing
