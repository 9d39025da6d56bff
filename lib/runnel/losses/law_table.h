#pragma once
// The friction laws a model can ask for: what they are called and what they need. Reading, the schema and
// `validate` work from this table.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/losses/friction.h"

namespace runnel::losses {

struct LawRow {
  Law law;
  const char* word;    ///< in a model
  const char* name;    ///< in a sentence
  bool has_constants;  ///< the factor k and the exponents n and m may be set
  bool needs_c;        ///< every pipe needs its C
  bool in_lanes;  ///< many samples at once know it (sizing/lane_tree.h); the others are solved one by one
};

/// In the order of Law.
const std::vector<LawRow>& law_rows();
const LawRow& law_row(Law law);
/// Nothing if no law goes by that word.
const LawRow* find_law(std::string_view word);
/// The words of all laws.
std::vector<std::string> law_words();

}  // namespace runnel::losses
