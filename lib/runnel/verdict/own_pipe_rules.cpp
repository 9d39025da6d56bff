// Pipes that the model describes itself, better than any that the standards know.
#include "runnel/pipes/best_known.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

constexpr Code better_than_any_rule{
    "pipe-better-than-any",
    "a pipe of one's own that is better than any in the catalogue",
    "A described pipe is smoother than every plastic pipe of the catalogue, or is rated for more than the "
    "strongest of them without a wall from which that could be reckoned.",
    "The answer rests on it: water comes, and the pipe holds, only if it is as good as it is said to be.",
    "Ask for the maker's sheet, or take 0.0015 mm or C = 150 at most, and a pipe of the catalogue.",
    "[binder1973], [illinois-77-906; from memory]; PE100 of SDR 7.4 [iso-4427-2]"};

bool better_than_any(const pipes::Pipe& pipe) {
  // From a wall the rating is reckoned elsewhere.
  return pipes::smoother_than_any(pipe) || (!(pipe.wall > Length{}) && pipes::stronger_than_any(pipe));
}

}  // namespace

void pipes_better_than_any(const Case& c, Findings& out) {
  for (const network::Line& line : c.system.lines())
    for (const auto& laid : line.pipes) {
      if (!better_than_any(laid.pipe)) continue;
      Draft d(better_than_any_rule, Severity::warning);
      d.on_line(line.name);
      d.message.name(laid.pipe.name).say(" in ").name(line.name);
      d.message.say(" is written smoother or stronger than any pipe of the catalogue.");
      d.advice.say("Ask for the maker's sheet, or take a pipe of the catalogue.");
      out.push_back(d.done());
      break;
    }
}

std::vector<Code> own_pipe_codes() { return {better_than_any_rule}; }

}  // namespace runnel::verdict
