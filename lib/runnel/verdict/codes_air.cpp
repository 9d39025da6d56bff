// Codes about air in the line.
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

std::vector<Code> air_codes() {
  return {
      {"air-start-blocked", "trapped air stops the water in an empty line",
       "When an empty line is filled, each stretch that falls from a high point to the next low point keeps "
       "its"
       " air. The water beyond presses on it. All pockets together ask for a higher source than there is, "
       "even"
       " with the air pressed together.",
       "The line looks right, falls enough from end to end, and yet not a drop comes out.",
       "Put an air valve where the advice says, or dig the high point down. Each remedy given was tried by"
       " working out the start again with it.",
       "statics and Boyle's law, pocket by pocket [line-notes 4]; rule of the two heads [practice-notes "
       "1.1]"},
      {"air-start-doubtful", "it starts only if trapped air gives way",
       "With the air pockets pressed together by Boyle's law the water gets through; if they kept their full"
       " height it would not. The truth lies between.",
       "It may start on one day and not on another.",
       "Vent the high point that gains most. Where that cannot be done, fill the line slowly and bleed it.",
       "statics and Boyle's law, and the same without compression [line-notes 4]"},
      {"air-crest", "air is held at a high point",
       "Air gathers at a high point when the line fills, when the grade line passes close above it, or when "
       "the"
       " current is too slow to carry bubbles down the far side.",
       "A pocket takes head away: as much as its own height. It comes back after each emptying.",
       "An air valve at the high point; or a smaller pipe beyond it, so that the water runs fast enough.",
       "grades of our own; published clearing laws differ by 1.6 times [practice-notes 2]"},
      {"air-grade-uncertain", "the survey cannot tell which way a stretch falls",
       "The rise or fall of the stretch is smaller than twice the stated error of the survey.",
       "A stretch thought to fall may rise and hold air, or lie flat and fill with silt.",
       "Level it again with a better instrument, or lay the pipe to a string line with an even fall.",
       "both ends off by the stated error, opposite ways"},
      {"siphon-needs-filling", "a sealed line must be filled by hand before it runs",
       "The line passes over a point above its source. Sealed and full it can run as a siphon; from empty it"
       " cannot.",
       "Each time air gets in it stops, and somebody has to fill it again.",
       "Plan for filling: a valve at the low end, a filling point at the top. Or dig the point down below the"
       " source.",
       "physics: an empty line fills no higher than its source"},
      {"air-not-judged", "not every way was judged for air",
       "The system has very many ways from sources to places; only the first were judged for starting from"
       " empty.",
       "Air may stop one that was not looked at.", "Split the model, or ask about the part that worries you.",
       ""},
      {"split-undetermined", "how the water parts at a high tee cannot be told",
       "A tee lies on a high point where the water runs at the air's pressure: which way it turns there is "
       "not"
       " settled by heads.",
       "One branch may take it all.", "Move the tee off the high point, or put a valve on each branch.",
       "physics: at atmospheric pressure the split is left open"},
  };
}

}  // namespace runnel::verdict
