#include "runnel/verdict/shut_words.h"

#include <algorithm>

namespace runnel::verdict {

bool every_tap_shut(const network::System& system) {
  const auto& taps = system.outlets();
  return !taps.empty() && std::all_of(taps.begin(), taps.end(), [](const auto& tap) { return tap.shut; });
}

Sentence what_shuts(const network::System& system, const std::string& name) {
  const auto index = system.find_line(name);
  const network::Line* line = index ? &system.lines()[static_cast<std::size_t>(*index)] : nullptr;
  const auto shut = [](const network::FittedPart& part) {
    return part.kind == network::PartKind::valve && !(part.open > 0.0);
  };
  Sentence s;
  if (line && std::none_of(line->parts.begin(), line->parts.end(), shut)) {
    if (line->float_valve)
      return s.say(", because the float valve at the end of ").name(name).say(" is shut");
    const std::string& end = system.place_name(line->to);
    if (const network::Outlet* tap = system.outlet(end); tap && tap->shut)
      return s.say(", because ").name(end).say(" is shut");
  }
  return s.say(", because a valve on ").name(name).say(" is shut");
}

}  // namespace runnel::verdict
