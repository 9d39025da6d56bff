#pragma once
// Whether a design depends on the constant of the friction formula. Books print the k of Hazen-Williams,
// 10.67 in most, anywhere from 10.5088 to 10.9031 [savic-walters1997]; a margin of head thinner than that
// spread says nothing about water.
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

/// For a laid model that works by flows and heads with its taps fully open. Nothing if it works with every
/// printed k, asks for nothing, or uses another friction law.
std::optional<HangsOnConstant> hangs_on_constant(const network::Model& model);

}  // namespace runnel::sizing
