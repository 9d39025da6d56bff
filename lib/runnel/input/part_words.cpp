#include "runnel/input/part_words.h"

#include <algorithm>

#include "runnel/losses/fittings.h"

namespace runnel::input {

const std::vector<std::string>& part_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> all = losses::fitting_types();
    for (const char* word :
         {"union", "air_valve", "washout", "check_valve", "reducing_valve", "valve", "fitting"})
      if (std::find(all.begin(), all.end(), word) == all.end()) all.emplace_back(word);
    return all;
  }();
  return words;
}

network::PartKind kind_of_part(std::string_view word) {
  using network::PartKind;
  const auto starts = [&](std::string_view with) { return word.substr(0, with.size()) == with; };
  if (word == "union") return PartKind::union_;
  if (word == "air_valve") return PartKind::air_valve;
  if (word == "washout") return PartKind::washout;
  if (word == "reducing_valve") return PartKind::reducing_valve;
  if (starts("check_valve") || starts("foot_valve")) return PartKind::check_valve;
  constexpr std::string_view valve = "valve";
  const bool is_valve = word.size() >= valve.size() && word.substr(word.size() - valve.size()) == valve;
  return is_valve ? PartKind::valve : PartKind::fitting;
}

}  // namespace runnel::input
