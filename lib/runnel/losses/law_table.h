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
  bool in_lanes;       ///< samples can be solved many at once (sizing/lane_tree.h), otherwise one by one
};

/// In the order of Law.
const std::vector<LawRow>& law_rows();
const LawRow& law_row(Law law);
/// nullptr if no law goes by that word.
const LawRow* find_law(std::string_view word);
/// The words of all laws.
std::vector<std::string> law_words();

}  // namespace runnel::losses
