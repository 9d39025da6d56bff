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
       "statics and Boyle's law, pocket by pocket [start-up-derivation]; rule of the two heads "
       "[air-lock-article; found]"},
      {"air-start-doubtful", "it starts only if trapped air gives way",
       "With the air pockets pressed together by Boyle's law the water gets through; if they kept their full"
       " height it would not. The truth lies between.",
       "It may start on one day and not on another.",
       "Vent the high point that gains most. Where that cannot be done, fill the line slowly and bleed it.",
       "statics and Boyle's law, and the same without compression [start-up-derivation]"},
      {"air-held-flow", "the air of the start holds the flow back",
       "A line that has started keeps the air of each stretch that falls behind a high point. Water runs "
       "down "
       "under it without filling the pipe, so that the height of the air is lost. The flow told is what "
       "comes "
       "when the current has carried off the air it can, by the published law that carries off least.",
       "The line runs, and gives less than it was laid for, for as long as the air stays.",
       "Put an air valve at the high points named, or dig them down. Without the air comes what the finding "
       "says.",
       "energy from the end back, with trapped air by Boyle's law [boyle-gas]; laws of clearing "
       "[wisner1975], "
       "[walski1994]"},
      {"branch-start", "a branch does not start while the rest runs",
       "The air in a branch asks for more height at its tee than is left there when everything else runs. "
       "With "
       "the rest shut the source lifts it higher. If its own current then carries the air off, it may run on "
       "when the rest is opened: the order of opening decides. Both are worked out with the whole system.",
       "The branch ran when it was tried alone, and not a drop comes once the main is open.",
       "Open the branch first and let it run until no more air comes; or put air valves at its high points, "
       "so that no order matters.",
       "statics and Boyle's law [start-up-derivation]; laws of clearing [wisner1975], [walski1994]"},
      {"air-crest", "air is held at a high point",
       "Air gathers at a high point when the line fills, when the grade line passes close above it, or when "
       "the"
       " current is too slow to carry bubbles down the far side.",
       "A pocket takes head away: as much as its own height. It comes back after each emptying.",
       "What the advice says: an air valve, a trench or a narrower pipe. Each was built into the model and "
       "solved again;"
       " the figures are what it then gives. In a sealed line under suction an air valve lets air in and "
       "stops it.",
       "grades of our own; at 50 mm and 10 degrees published clearing laws differ by 1.6 times "
       "[wisner1975], [walski1994]"},
      {"air-grade-uncertain", "the survey cannot tell which way a stretch falls",
       "The rise or fall of the stretch is smaller than twice the stated error of the survey.",
       "A stretch thought to fall may rise and hold air, or lie flat and fill with silt.",
       "Level it again with a better instrument, or lay the pipe to a string line with an even fall.",
       "both ends off by the stated error, opposite ways"},
      {"air-near-grade", "the grade line comes close to the pipe",
       "Away from the high points the grade line lies nearer above the pipe than the survey's stated error, "
       "or"
       " than a metre if none is stated.",
       "A small error of the survey, or a little more flow, brings it under the pipe; air comes in or out "
       "there.",
       "Lay the pipe deeper on that stretch, or take a wider pipe above it.",
       "the survey's stated error; else common practice, no source"},
      {"air-part-full", "part of the line runs with air over the water",
       "Water runs part-full down a stretch that no air valve and no open box lets air into.",
       "The air there is carried off little by little and drawn in elsewhere, and the flow surges.",
       "Put an air valve at the top of the stretch.", "physics: a part-full pipe needs its air"},
      {"air-jump", "swift water strikes the full pipe",
       "Water that rushes down part-full meets the pipe running full: a hydraulic jump, where the grade line"
       " meets the pipe. The share of air is an upper figure.",
       "The jump beats air into the water; what is not carried on gathers at the next high point.",
       "Let the air back up through an air valve at the high point before it, or take a narrower pipe below.",
       "air after a jump 0.0066 (F - 1)^1.4 [kalinske-robertson1943; from memory], measured in a 6 in pipe"},
      {"air-washout-missing", "a low point has no washout",
       "The line has a low point deeper than its bore, and no washout near it.",
       "Silt settles there, and the line cannot be emptied against frost or for mending.",
       "Put a washout there: a tee and a valve led to open air.",
       "washouts at the bottom of each large U [jordan1980; from memory]"},
      {"siphon-needs-filling", "a sealed line must be filled by hand before it runs",
       "The line passes over a point above its source. Sealed and full it can run as a siphon; from empty it"
       " cannot.",
       "Each time air gets in it stops, and somebody has to fill it again.",
       "Plan for filling: a valve at the low end, a filling point at the top. Or dig the point down below the"
       " source.",
       "physics: an empty line fills no higher than its source"},
      {"air-not-judged", "not every way was judged for air",
       "The system has very many ways from sources to places and only the first were judged for starting from"
       " empty; or air stands behind a reducing valve, and what it takes there is not worked out.",
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
