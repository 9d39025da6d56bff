#include "runnel/losses/law_table.h"

namespace runnel::losses {

const std::vector<LawRow>& law_rows() {
  static const std::vector<LawRow> rows{
      {Law::darcy_weisbach, "darcy-weisbach", "Darcy-Weisbach", false, false, true},
      {Law::hazen_williams, "hazen-williams", "Hazen-Williams", true, true, true},
  };
  return rows;
}

const LawRow& law_row(Law law) { return law_rows()[static_cast<std::size_t>(law)]; }

const LawRow* find_law(std::string_view word) {
  for (const LawRow& row : law_rows())
    if (word == row.word) return &row;
  return nullptr;
}

std::vector<std::string> law_words() {
  std::vector<std::string> words;
  for (const LawRow& row : law_rows()) words.emplace_back(row.word);
  return words;
}

}  // namespace runnel::losses
