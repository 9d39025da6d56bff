#include "runnel/verdict/shut_words.h"

#include <algorithm>

namespace runnel::verdict {

Sentence what_shuts(const network::System& system, const std::string& name) {
  const auto index = system.find_line(name);
  const network::Line* line = index ? &system.lines()[static_cast<std::size_t>(*index)] : nullptr;
  const auto shut = [](const network::FittedPart& part) {
    return part.kind == network::PartKind::valve && !(part.open > 0.0);
  };
  Sentence s;
  if (line && line->float_valve && std::none_of(line->parts.begin(), line->parts.end(), shut))
    return s.say(", because the float valve at the end of ").name(name).say(" is shut");
  return s.say(", because a valve on ").name(name).say(" is shut");
}

}  // namespace runnel::verdict
